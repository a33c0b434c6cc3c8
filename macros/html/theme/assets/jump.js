/* The button under the head leads to the next step that has no tick, and to the cautions right before it. */
(function () {
"use strict";

function init() {
  var link = document.querySelector(".sop-jump a");
  if (!link || link.dataset.ready) return;
  link.dataset.ready = "1";

  function next() {
    return [].slice.call(document.querySelectorAll(".sop-step")).find(function (step) { return !step.querySelector("input[data-step]").checked; });
  }

  function show() {
    var step = next();
    link.textContent = step ? "Go to step " + step.querySelector(".sop-no").textContent : "All steps done: to the end";
  }

  function go(event) {
    var step = next(), place = step || document.getElementById("after-steps");
    event.preventDefault();
    while (step && place.previousElementSibling && place.previousElementSibling.classList.contains("sop-haz")) place = place.previousElementSibling;
    place.tabIndex = -1; // the keyboard goes on from here
    place.focus({ preventScroll: true });
    place.scrollIntoView({ block: "start" });
  }

  link.addEventListener("click", go);
  document.querySelector(".md-content").addEventListener("change", show);
  document.addEventListener("ticks-reset", show);
  show();
}

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
