/* One step fills the screen. A caution is a screen of its own that must be passed. Ticks are those of the page. */
(function () {
"use strict";

/* The view of a page that is gone. */
function clearOld() {
  document.querySelectorAll("body > .one").forEach(function (old) { old.hidden = true; old.remove(); });
  document.querySelectorAll(".md-header, .md-container").forEach(function (part) { part.inert = false; });
  document.documentElement.classList.remove("one-open");
}

function init() {
  var bar = document.querySelector("[data-ticks]");
  if (bar && bar.dataset.oneReady) return;
  clearOld();
  if (!bar) return;
  bar.dataset.oneReady = "1";
  var screens = [].slice.call(document.querySelectorAll(".sop-haz, .sop-step, .sop-safe"));
  var steps = screens.filter(isStep);
  if (!steps.length) return;
  var open = make("button", "sop-button", "One step at a time");
  open.type = "button";
  open.addEventListener("click", start);
  bar.insertBefore(open, bar.querySelector(".ticks-reset"));

  var view = make("section", "one"), head = make("p", "one-head"), card = make("div", "one-card");
  var back = make("button", "one-back", "Back"), next = make("button", "one-next", ""), close = make("button", "sop-button", "All steps");
  [back, next, close].forEach(function (one) { one.type = "button"; });
  view.hidden = true;
  view.setAttribute("aria-label", "One step at a time");
  card.tabIndex = -1;
  card.setAttribute("aria-live", "polite");
  var top = make("div", "one-top"), foot = make("div", "one-foot");
  top.append(head, close);
  foot.append(back, next);
  view.append(top, card, foot);
  document.body.append(view);
  var at = 0;

  function make(name, style, text) {
    var made = document.createElement(name);
    made.className = style;
    if (text) made.textContent = text;
    return made;
  }
  function isStep(screen) { return screen.classList.contains("sop-step"); }
  function isCaution(screen) { return screen.classList.contains("sop-haz"); }
  function box(step) { return step.querySelector("input[data-step]"); }

  /* Work goes on at the first step without a tick, its cautions first. */
  function first() {
    var step = steps.find(function (one) { return !box(one).checked; });
    if (!step) return screens.length;
    var index = screens.indexOf(step);
    while (index > 0 && isCaution(screens[index - 1])) index--;
    return index;
  }

  function start() {
    at = first();
    view.hidden = false;
    document.querySelectorAll(".md-header, .md-container").forEach(function (part) { part.inert = true; });
    document.documentElement.classList.add("one-open");
    show();
  }

  function end() {
    view.hidden = true;
    document.querySelectorAll(".md-header, .md-container").forEach(function (part) { part.inert = false; });
    document.documentElement.classList.remove("one-open");
    var step = screens[Math.min(at, screens.length - 1)];
    step.scrollIntoView({ block: "center" });
    open.focus({ preventScroll: true });
  }

  function show() {
    var screen = screens[at], system = document.querySelector(".sop-system");
    card.textContent = "";
    head.textContent = "";
    if (system) head.append(make("b", "one-system", system.textContent));
    back.disabled = at === 0;
    if (!screen) {
      head.append(steps.length + " of " + steps.length + " done");
      card.append(make("p", "one-do", "All steps are done. Look at: done when, clean-up, records."));
      next.textContent = "Close";
    } else {
      var following = screens.slice(at).find(isStep), number = steps.indexOf(following) + 1;
      head.append(isStep(screen) ? "Step " + number + " of " + steps.length : isCaution(screen) ? "Before step " + number : "After step " + (number ? number - 1 : steps.length));
      card.append(isStep(screen) ? stepCard(screen) : screen.cloneNode(true));
      next.textContent = isCaution(screen) ? "I have read it" : !isStep(screen) ? "Go on" : screen.querySelector(".sop-mark--hold") ? "Seen and right: done" : "Done";
    }
    view.dataset.kind = !screen ? "end" : isStep(screen) ? "step" : isCaution(screen) ? "caution" : "leave";
    card.scrollTop = 0;
    card.focus();
  }

  /* The words of the page, the amount in the largest type. The timer is the page's own, moved here and back. */
  function stepCard(screen) {
    var made = make("div", "one-step"), words = make("div", "one-do"), amount = make("div", "one-amt");
    [].forEach.call(screen.querySelector(".sop-do").childNodes, function (node) {
      if (!(node.classList && node.classList.contains("sop-timer"))) words.append(node.cloneNode(true));
    });
    [].forEach.call(screen.querySelector(".sop-amt").childNodes, function (node) { amount.append(node.cloneNode(true)); });
    made.append(words, amount);
    if (window.readings) made.append(window.readings.fieldsFor(screen));
    var pictures = screen.querySelector(".sop-pics");
    if (pictures) {
      pictures = pictures.cloneNode(true);
      pictures.className = "one-pics";
      made.append(pictures);
    }
    var timer = screen.querySelector(".sop-timer");
    if (timer) {
      var home = timer.parentNode;
      made.append(timer);
      leave = function () { home.append(timer); };
    }
    return made;
  }
  var leave = null;
  function go(to) {
    if (leave) { leave(); leave = null; }
    at = to;
    if (at > screens.length) { at = screens.length; end(); } else show();
  }

  function forward() {
    var screen = screens[at];
    if (screen && isStep(screen) && !box(screen).checked) {
      box(screen).checked = true;
      box(screen).dispatchEvent(new Event("change", { bubbles: true }));
    }
    go(at + 1);
  }

  next.addEventListener("click", forward);
  back.addEventListener("click", function () { if (at > 0) go(at - 1); });
  close.addEventListener("click", function () { if (leave) { leave(); leave = null; } end(); });
  document.addEventListener("keydown", function (event) {
    if (view.hidden || event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === "Escape") close.click();
    else if (event.key === "ArrowLeft" || event.key === "PageUp") back.click();
    else if (event.key === "ArrowRight" || event.key === "PageDown") {
      /* A key pressed in passing does not pass a caution or a hold: its own button does. */
      if (view.dataset.kind === "caution" || next.textContent.indexOf("Seen") === 0) next.focus(); else forward();
    } else return;
    event.preventDefault();
  });
}

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
