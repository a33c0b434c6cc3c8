/* The bar above a sheet: print, and large print. Without JavaScript the buttons stay hidden and the browser prints. */
(function () {
  "use strict";
  var acts = {
    print: function () { window.print(); },
    large: function (button) {
      var on = button.getAttribute("aria-pressed") !== "true";
      button.setAttribute("aria-pressed", String(on));
      document.querySelectorAll(".sheet").forEach(function (sheet) { sheet.classList.toggle("large", on); });
    }
  };
  document.querySelectorAll("[data-act]").forEach(function (button) {
    button.addEventListener("click", function () { acts[button.dataset.act](button); });
    button.hidden = false;
  });
})();
