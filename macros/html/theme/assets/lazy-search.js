/* The search of the theme, which reads its whole index on every page, made to wait until somebody searches. */
(function () {
"use strict";

var RealWorker = window.Worker, READY = 1, SETUP = 0, QUERY = 2;
var base = document.currentScript.src.replace(/assets\/lazy-search\.js.*$/, "");

/* However the number of a page is typed (sop8, SOP 8, sop-08), it is looked for as it is written. */
function asWritten(words) {
  return words.replace(/\bsop[\s_-]*0*(\d{1,2})\b/gi, function (all, number) {
    return "+sop +" + (number.length < 2 ? "0" : "") + number;
  });
}
window.searchedAs = asWritten;

/* Stands where the theme makes its worker. It is ready at once and keeps what is asked until the true one answers. */
function LazyWorker(address) {
  var self = new EventTarget(), real = null, asked = null, options = {};

  function tell(data) { self.dispatchEvent(new MessageEvent("message", { data: data })); }

  function begin() {
    var made = new RealWorker(address);
    made.addEventListener("message", function (event) {
      if (event.data.type === READY) {
        real = made;
        if (asked) real.postMessage(asked);
      } else tell(event.data);
    });
    made.postMessage({ type: SETUP, data: { config: window.wholeIndex.config, docs: window.wholeIndex.docs, options: options } });
  }

  function load() {
    var script = document.createElement("script");
    script.src = base + "search/whole_index.js";
    script.onload = begin;
    script.onerror = function () { script.remove(); wait(); };
    document.head.append(script);
  }

  /* A finger or a key at the search: the theme's own box opens meanwhile. */
  function wait() { document.addEventListener("focusin", touched); }
  function touched(event) {
    if (!event.target.matches || !event.target.matches(".md-search__input")) return;
    document.removeEventListener("focusin", touched);
    load();
  }

  self.postMessage = function (message) {
    if (message.type === SETUP) {
      options = message.data.options;
      tell({ type: READY });
      return;
    }
    asked = message.type === QUERY ? { type: QUERY, data: asWritten(message.data) } : message;
    if (real) real.postMessage(asked);
  };
  self.terminate = function () { if (real) real.terminate(); };
  wait();
  return self;
}

window.Worker = LazyWorker;
})();
