/* Timers of steps that wait: when it began, when it is due, when it is too late. Kept like the ticks. */
(function () {
"use strict";

var MINUTE = 60000;

function store() {
  try { return window.localStorage; } catch (error) { return null; }
}

function clock(time) {
  return new Date(time).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hour12: false });
}

function left(milliseconds) {
  var minutes = Math.ceil(milliseconds / MINUTE);
  return minutes >= 60 ? Math.floor(minutes / 60) + " h " + (minutes % 60) + " min" : minutes + " min";
}

/* One line on where a timer stands: {text, state}; state is running, due or missed. */
function standing(timer, started, now) {
  var due = started + timer.least * MINUTE;
  var latest = timer.greatest === null ? null : started + timer.greatest * MINUTE;
  var begun = "Began " + clock(started) + ", due " + clock(due) + (latest ? ", at the latest " + clock(latest) : "") + ". ";
  if (now < due) return { state: "running", text: begun + left(due - now) + " to go." };
  if (latest !== null && now > latest) return { state: "missed", text: begun + "Too late. " + timer.missed };
  return { state: "due", text: begun + "Due now: " + timer.then + "." };
}

function init() {
  var bar = document.querySelector("[data-ticks]");
  if (!bar || bar.dataset.timersReady) return;
  bar.dataset.timersReady = "1";
  var kept = store(), names = bar.dataset.ticks.split("|");
  var own = "timers:" + names[0] + ":", key = own + names.slice(1).join(":");
  var started = {};
  if (kept) {
    for (var i = kept.length - 1; i >= 0; i--) {
      var other = kept.key(i);
      if (other && other.indexOf(own) === 0 && other !== key) kept.removeItem(other);
    }
    try { started = JSON.parse(kept.getItem(key)) || {}; } catch (error) { started = {}; }
  }

  function save() {
    if (!kept) return;
    if (Object.keys(started).length) kept.setItem(key, JSON.stringify(started));
    else kept.removeItem(key);
  }

  var timers = [].map.call(document.querySelectorAll(".sop-step[data-least]"), function (row) {
    var greatest = row.dataset.greatest;
    var timer = {
      step: row.dataset.stepId, number: row.querySelector(".sop-no").textContent, least: Number(row.dataset.least),
      greatest: greatest === "" ? null : Number(greatest), then: row.dataset.then, missed: row.dataset.missed, told: "",
      box: document.createElement("div"), line: document.createElement("p"),
    };
    timer.box.className = "sop-timer";
    timer.line.setAttribute("role", "status");
    timer.start = button("Start " + timer.least + " min", function () {
      if (started[timer.step] && !window.confirm("Start the time of step " + timer.number + " anew?")) return;
      started[timer.step] = Date.now(); timer.told = ""; save(); show();
    });
    timer.stop = button("Stop", function () { delete started[timer.step]; save(); show(); });
    timer.box.append(timer.start, timer.stop, timer.line);
    row.querySelector(".sop-do").append(timer.box);
    return timer;
  });
  if (!timers.length) return;

  function button(text, act) {
    var made = document.createElement("button");
    made.type = "button"; made.className = "sop-button"; made.textContent = text;
    made.addEventListener("click", act);
    return made;
  }

  var inBar = document.createElement("p");
  inBar.className = "ticks-timers";
  bar.append(inBar);

  function show() {
    var lines = [];
    timers.forEach(function (timer) {
      var since = started[timer.step];
      timer.stop.hidden = !since;
      timer.box.dataset.state = "";
      if (!since) { timer.line.textContent = ""; return; }
      var now = standing(timer, since, Date.now());
      timer.box.dataset.state = now.state;
      if (timer.line.textContent !== now.text) timer.line.textContent = now.text;
      lines.push("Step " + timer.number + ": " + (now.state === "running" ? now.text.split(". ").pop() : now.state === "due" ? "due now." : "too late."));
      if (now.state !== timer.told) { if (now.state !== "running" && timer.told) call(); timer.told = now.state; }
    });
    inBar.textContent = lines.join(" ");
    inBar.hidden = !lines.length;
  }

  /* A phone that can, shakes: wet hands do not look at the screen. */
  function call() {
    if (navigator.vibrate) navigator.vibrate([400, 200, 400, 200, 400]);
  }

  document.addEventListener("ticks-reset", function () { started = {}; save(); show(); });
  document.addEventListener("visibilitychange", show);
  window.setInterval(show, 1000);
  show();
}

window.standingOfTimer = standing;
if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
