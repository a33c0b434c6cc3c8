/* Timers of steps that wait, for the whole manual in one place: any page can tell them. A timer is kept by the time of
   day it is due, never by counted seconds: sleep, reload and another page change nothing. */
(function () {
"use strict";

var MINUTE = 60000, DAY = 86400000, START = "timers:", unkept = {};

/* Hours and minutes; with the day where that is not today. */
function clock(time) {
  var day = new Date(time), told = day.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  if (day.toDateString() === new Date().toDateString()) return told;
  var near = Math.abs(Date.now() - time) < 6 * DAY;
  return day.toLocaleDateString("en-GB", near ? { weekday: "short" } : { day: "numeric", month: "short" }) + " " + told;
}

function left(milliseconds) {
  var minutes = Math.ceil(milliseconds / MINUTE);
  return minutes >= 60 ? Math.floor(minutes / 60) + " h " + (minutes % 60) + " min" : minutes + " min";
}

function get(id) {
  var found = window.kept.works ? window.kept.get(START + id) : unkept[id];
  return found && typeof found.due === "number" && typeof found.began === "number" ? found : null;
}

function put(id, entry) {
  if (window.kept.works) { if (entry) window.kept.set(START + id, entry); else window.kept.remove(START + id); }
  else if (entry) unkept[id] = entry; else delete unkept[id];
  document.dispatchEvent(new Event("timers"));
}

/* All that run or are due, the next one first. */
function all() {
  var ids = window.kept.works ? window.kept.names(START).map(function (name) { return name.slice(START.length); }) : Object.keys(unkept);
  return ids.map(get).filter(Boolean).sort(function (one, other) { return one.due - other.due; });
}

function page() {
  var bar = document.querySelector("[data-ticks]"), names = bar ? bar.dataset.ticks.split("|") : [""];
  return { bar: bar, key: names[0], code: names.slice(1).join(":") };
}

function idOf(row) { return page().key + ":" + row.dataset.stepId; }

function start(row) {
  var here = page(), system = document.querySelector(".sop-system"), now = Date.now(), data = row.dataset;
  put(idOf(row), {
    id: idOf(row), key: here.key, code: here.code, page: here.bar.dataset.document, system: system ? system.textContent : "",
    step: row.id, number: row.querySelector(".sop-no").textContent, words: data.words, then: data.then, missed: data.missed,
    address: here.bar.dataset.address, began: now, due: now + data.least * MINUTE,
    latest: data.greatest === "" ? null : now + data.greatest * MINUTE, heard: "",
  });
  document.dispatchEvent(new Event("timer-started"));
}

/* Where a timer stands: {state, left, text}; state is running, due or missed. */
function standing(entry, now) {
  var begun = "Began " + clock(entry.began) + ", due " + clock(entry.due) + (entry.latest ? ", at the latest " + clock(entry.latest) : "") + ". ";
  var here = page();
  if (entry.key === here.key && entry.code !== here.code) begun += "The page has changed since this timer began. ";
  if (now < entry.due) return { state: "running", left: left(entry.due - now), text: begun + left(entry.due - now) + " to go." };
  if (entry.latest !== null && now > entry.latest) return { state: "missed", left: "Too late", text: begun + "Too late. " + entry.missed };
  return { state: "due", left: "Due now", text: begun + "Due now: " + entry.then + "." };
}

/* ---- on its page, each beside its step */

function button(text, style, act) {
  var made = document.createElement("button");
  made.type = "button"; made.className = "sop-button " + style; made.textContent = text;
  made.addEventListener("click", act);
  return made;
}

function box(row) {
  var made = document.createElement("div"), line = document.createElement("p"), id = idOf(row);
  made.className = "sop-timer";
  line.setAttribute("role", "status");
  made.append(
    button("Start " + row.dataset.least + " min", "", function () {
      if (!get(id) || window.confirm("Start the time of step " + get(id).number + " anew?")) start(row);
    }),
    button("Stop", "timer-stop", function () { put(id, null); }), line);
  return made;
}

function draw() {
  document.querySelectorAll(".sop-timer").forEach(function (made) {
    var entry = get(idOf(made.closest(".sop-step"))), now = entry ? standing(entry, Date.now()) : { state: "", text: "" };
    var line = made.querySelector("p");
    made.querySelector(".timer-stop").hidden = !entry;
    made.dataset.state = now.state;
    if (line.textContent !== now.text) line.textContent = now.text;
  });
}

function init() {
  document.querySelectorAll(".sop-step[data-least]").forEach(function (row) {
    if (!row.querySelector(".sop-timer")) row.append(box(row));
  });
  document.dispatchEvent(new Event("timers"));
}

window.timers = {
  all: all, get: get, idOf: idOf, start: start, standing: standing, clock: clock,
  stop: function (id) { put(id, null); },
  stopPage: function () { all().forEach(function (one) { if (one.key === page().key) put(one.id, null); }); },
  ofPage: function () { return all().filter(function (one) { return one.key === page().key; }); },
  hear: function (entry, state) { entry.heard = state; put(entry.id, entry); },
};

/* One clock for the document; other windows of the manual write into the same store. */
function tell() { document.dispatchEvent(new Event("timers")); }
document.addEventListener("timers", draw);
document.addEventListener("visibilitychange", tell);
window.addEventListener("storage", tell);
window.addEventListener("pageshow", tell);
window.setInterval(tell, 1000);

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
