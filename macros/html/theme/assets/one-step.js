/* One step fills the screen, over everything else. A caution and a wait are screens of their own that must be passed; what
   must be seen has been on the screen to its end before it can be. Ticks and timers are those of the page. */
(function () {
"use strict";

var REST = 700;  /* milliseconds after a change in which a second tap of a wet glove counts for nothing */
var LABELS = { caution: "I have read it", leave: "Go on", end: "Close" };
var EARLY = ["Leave the wait", "Leave it before it is due?", "Go on without waiting"];
var make = window.oneCards.make, view = null, parts = {}, screens = [], at = 0, changed = 0, seen = false, early = 0, awake = null, opener = null;

/* ---- the screens of a page, in the order of the page */

function read() {
  var found = [], row = null;
  document.querySelectorAll(".sop-haz, .sop-step, .sop-safe").forEach(function (node) {
    if (node.closest(".one")) return;
    if (node.classList.contains("sop-haz")) found.push({ kind: "caution", node: node });
    else if (node.classList.contains("sop-step")) {
      row = node;
      found.push({ kind: "step", row: row });
      if (row.querySelector(".sop-wait")) found.push({ kind: "wait", row: row });
    } else if (found.length && found[found.length - 1].kind === "wait") found[found.length - 1].node = node;
    else found.push({ kind: "leave", node: node });
  });
  return found.concat({ kind: "end" });
}

function steps() { return screens.filter(function (one) { return one.kind === "step"; }); }
function ticked(screen) { return screen.row.querySelector("input[data-step]").checked; }
function timer(row) { return window.timers.get(window.timers.idOf(row)); }

/* Work goes on at the first step without a tick: its cautions first, before them a wait that is not over. */
function first() {
  var index = screens.findIndex(function (one) { return one.kind === "step" && !ticked(one); });
  if (index < 0) index = screens.length - 1;
  while (index > 0 && screens[index - 1].kind === "caution") index--;
  return index > 0 && screens[index - 1].kind === "wait" && timer(screens[index - 1].row) ? index - 1 : index;
}

/* ---- the dialog */

function build() {
  view = make("dialog", "one");
  view.setAttribute("aria-labelledby", "one-head");
  parts = { top: make("div", "one-top"), head: make("h2", "one-head"), close: make("button", "sop-button", "All steps"),
    timers: make("nav", "one-timers"), card: make("div", "one-card"), foot: make("div", "one-foot"),
    back: make("button", "one-back", "Back"), not: make("button", "one-not", "Not needed"), next: make("button", "one-next") };
  parts.head.id = "one-head";
  parts.timers.setAttribute("aria-label", "Timers of the manual");
  parts.card.tabIndex = 0;
  parts.card.setAttribute("role", "group");
  parts.card.setAttribute("aria-labelledby", "one-head");
  [parts.close, parts.back, parts.not, parts.next].forEach(function (one) { one.type = "button"; });
  parts.top.append(parts.head, parts.close);
  parts.foot.append(parts.back, parts.not, parts.next);
  view.append(parts.top, parts.timers, parts.card, parts.foot);
  document.body.append(view);
  view.addEventListener("click", rested, true);
  view.addEventListener("keydown", keys);
  view.addEventListener("cancel", function (event) { event.preventDefault(); close(); });
  view.addEventListener("close", closed);
  parts.card.addEventListener("scroll", look);
  window.addEventListener("resize", function () { if (view.open) { fit(); look(); } });
  parts.timers.addEventListener("click", toTimer);
  parts.close.addEventListener("click", close);
  parts.back.addEventListener("click", function () { if (at > 0) go(at - 1); });
  parts.not.addEventListener("click", function () { done(false); });
  parts.next.addEventListener("click", forward);
}

/* A tap or key too soon after a change was meant for the screen before. The way out and the emergency bar are always open. */
function rested(event) {
  if (!event.target.closest(".one-foot, .one-card button")) return;
  if (performance.now() - changed >= REST) return;
  event.preventDefault();
  event.stopImmediatePropagation();
}

function change() { changed = performance.now(); }

/* Keys move between the buttons and scroll; none passes a screen but the button itself, pressed once. */
function keys(event) {
  if (event.repeat && (event.key === "Enter" || event.key === " ")) event.preventDefault();
  else if (event.key === "ArrowRight") parts.next.focus();
  else if (event.key === "ArrowLeft") parts.back.focus();
}

function open(place) {
  if (!view || !view.isConnected) build();
  if (view.open) return;
  var help = document.querySelector(".sop-help"), asked = window.ticks.page().asks();
  screens = read();
  if (asked) screens.unshift({ kind: "ask", answered: function () { screens.shift(); at = first(); show(); } });
  if (help) { parts.help = help; parts.home = help.nextSibling; parts.house = help.parentNode; view.append(help); }
  view.showModal();
  document.documentElement.classList.add("one-open");
  if (!(history.state && history.state.one)) history.pushState({ one: "open" }, "");
  stayAwake();
  var found = screens.map(name).indexOf(place);
  at = asked ? 0 : found >= 0 ? found : first();
  show();
}

function close() { if (view.open) view.close(); }

function closed() {
  document.documentElement.classList.remove("one-open");
  if (parts.help) { parts.house.insertBefore(parts.help, parts.home); parts.help = null; }
  if (awake) { awake.release(); awake = null; }
  if (opener) opener.focus({ preventScroll: true });
  document.dispatchEvent(new Event("timers"));
  if (!(history.state && history.state.one)) { land(); return; }
  window.addEventListener("popstate", function () { window.setTimeout(land, 0); }, { once: true });  /* after the browser's own scrolling */
  history.back();
}

/* The page stands where the view stood. */
function land() {
  var screen = screens[Math.min(at, screens.length - 1)], place = screen.row || screen.node;
  if (place && place.isConnected) place.scrollIntoView({ block: "center" });
}

function stayAwake() {
  if (!navigator.wakeLock || document.hidden) return;
  navigator.wakeLock.request("screen").then(function (lock) { awake = lock; if (!view.open) lock.release(); }, function () {});
}

/* ---- one screen */

/* What a screen is called in the history, so that a return finds it: it outlives a new order of the steps. */
function name(screen) {
  var index = screens.indexOf(screen), row = screen.row, of = 0;
  while (!row && index < screens.length) { row = screens[index].row; if (!row) of++; index++; }
  return screen.kind + ":" + (row ? row.dataset.stepId : "") + ":" + of;
}

function heading(screen) {
  var all = steps(), row = screen.row, number = all.findIndex(function (one) { return one.row === row; }) + 1;
  if (screen.kind === "step") return "Step " + number + " of " + all.length;
  if (screen.kind === "wait") return "Wait after step " + number;
  if (screen.kind === "end") return all.filter(ticked).length + " of " + all.length + " done";
  if (screen.kind === "ask") return "Before you go on";
  var following = screens.slice(at).find(function (one) { return one.kind === "step"; });
  number = following ? all.indexOf(following) + 1 : all.length + 1;
  return screen.kind === "caution" ? "Before step " + number : "After step " + (number - 1);
}

function show() {
  var screen = screens[at], system = document.querySelector(".sop-system");
  history.replaceState({ one: name(screen) }, "");
  view.dataset.kind = screen.kind;
  parts.head.textContent = "";
  if (system) parts.head.append(make("b", "one-system", system.textContent));
  parts.head.append(make("span", "", heading(screen)));
  parts.card.textContent = "";
  parts.card.append(window.oneCards[screen.kind](screen));
  parts.back.disabled = at === 0;
  seen = false;
  early = 0;
  parts.card.scrollTop = 0;
  draw();
  fit();
  change();
  look();
  parts.card.focus({ preventScroll: true });
}

/* The largest type in which what must be seen stands on the screen as a whole; at least one in which no number is cut. */
function fit() {
  var must = parts.card.querySelector(".one-must");
  for (var size = 0; size < 5; size++) {
    parts.card.dataset.fit = size;
    if (must.scrollWidth <= must.clientWidth && (size === 3 || must.offsetHeight <= parts.card.clientHeight - 16)) return;
  }
}

/* Until its end was on the screen a screen cannot be passed: the button scrolls. */
function look() {
  var must = parts.card.querySelector(".one-must");
  if (!seen && must && must.getBoundingClientRect().bottom <= parts.card.getBoundingClientRect().bottom + 1) { seen = true; change(); }
  label();
}

function label() {
  var screen = screens[at], text = LABELS[screen.kind];
  if (screen.kind === "step") text = screen.row.querySelector(".sop-mark--hold") ? "Seen and right: done" : "Done";
  if (screen.kind === "wait") text = over(screen) ? "Go on" : EARLY[early];
  if (!seen) text = "Read on";
  view.dataset.early = screen.kind === "wait" && seen ? early : 0;
  parts.next.hidden = screen.kind === "ask";
  parts.not.hidden = !(seen && screen.kind === "step" && screen.row.dataset.condition);
  if (parts.next.textContent !== text) parts.next.textContent = text;
}

/* A wait that is not one plain time has no timer: its words alone say when it is over. */
function over(screen) {
  var entry = timer(screen.row);
  return screen.row.dataset.least === undefined || Boolean(entry && Date.now() >= entry.due);
}

function draw() {
  if (!view || !view.open) return;
  window.timers.fill(parts.timers);
  var whole = parts.card.firstChild;
  if (whole && whole.draw) { whole.draw(); label(); }
}

/* ---- onward */

function go(to) { at = Math.max(0, to); show(); }

function forward() {
  var screen = screens[at];
  if (!seen) { parts.card.scrollBy(0, parts.card.clientHeight * 0.8); look(); return; }
  if (screen.kind === "end") { close(); return; }
  if (screen.kind === "step") { done(true); return; }
  if (screen.kind === "wait" && !over(screen) && early < EARLY.length - 1) { early++; label(); change(); return; }
  if (screen.kind === "wait" && over(screen)) window.timers.stop(window.timers.idOf(screen.row));
  go(at + 1);
}

/* A step that is done begins its wait; one that is not needed has none. */
function done(needed) {
  var screen = screens[at], before = ticked(screen), following = screens[at + 1];
  window.ticks.page().pass(screen.row, needed);
  if (needed && !before && screen.row.dataset.least !== undefined && !timer(screen.row)) window.timers.start(screen.row);
  go(!needed && following.kind === "wait" ? at + 2 : at + 1);
}

/* A timer of this page leads to its wait in the view; any other to its page. */
function toTimer(event) {
  var link = event.target.closest("a");
  var to = link ? screens.findIndex(function (one) { return one.kind === "wait" && window.timers.idOf(one.row) === link.dataset.timer; }) : -1;
  if (to < 0) return;
  event.preventDefault();
  go(to);
}

function init() {
  var bar = document.querySelector("[data-ticks]");
  if (view && view.open && !(bar && bar.dataset.oneReady)) close();  /* another page came into the document */
  if (!bar || bar.dataset.oneReady || !document.querySelector(".sop-step")) return;
  bar.dataset.oneReady = "1";
  opener = make("button", "sop-button", "One step at a time");
  opener.type = "button";
  opener.addEventListener("click", function () { open(""); });
  bar.insertBefore(opener, bar.querySelector(".ticks-reset"));
  if (history.state && history.state.one) open(history.state.one);
}

document.addEventListener("timers", draw);
document.addEventListener("visibilitychange", function () { if (view && view.open && !document.hidden) stayAwake(); });
window.addEventListener("popstate", function (event) {
  var wanted = event.state && event.state.one;
  if (view && view.open && !wanted) close();
  else if (wanted && opener && opener.isConnected) open(wanted);
});

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
