/* The manual on a device: tells which issue is kept, and offers a new one between jobs, never during one. */
(function () {
"use strict";

var worker = navigator.serviceWorker, root = new URL("..", document.currentScript.src).href;
if (!worker || !navigator.locks || !window.isSecureContext) return; // over plain http browsers allow neither
var DAY = 24 * 60 * 60 * 1000, LOOK_AGAIN = 2000, VIEW = "one step at a time: " + root;
var shown = null, told = null, line = null, letGo = null;

/* The one-step view of any window holds a lock, which ends with the window, whatever ends that. */
function holdWhileViewed() {
  var open = document.documentElement.classList.contains("one-open");
  if (open && !letGo) {
    var held = new Promise(function (resolve) { letGo = resolve; });
    navigator.locks.request(VIEW, { mode: "shared" }, function () { return held; });
  }
  if (!open && letGo) { letGo(); letGo = null; }
}

/* Ticks of a page of which the last was set within a day. A page that is done whole keeps none of it waiting: `of` its steps. */
function partDone(name) {
  var ticks = window.kept.get(name), count = ticks && ticks.on ? Object.keys(ticks.on).length : 0;
  return count > 0 && Date.now() - (ticks.last || ticks.at) < DAY && !(count >= ticks.of);
}

/* A job runs while the one-step view is open, a timer runs, or ticks are part done: here or in another window. */
async function jobRuns() {
  var boxes = Array.from(document.querySelectorAll("input[data-step]"));
  var ticked = boxes.filter(function (box) { return box.checked; }).length;
  if (document.documentElement.classList.contains("one-open") || (ticked && ticked < boxes.length)) return true;
  if (window.kept.names("timers:").length || window.kept.names("ticks:").some(partDone)) return true;
  return (await navigator.locks.query()).held.some(function (lock) { return lock.name === VIEW; });
}

function issue(one) { return "of " + one.date + ", code " + one.code.slice(0, 4) + " " + one.code.slice(4, 8); }

/* What calls for a tap stands over the page, what is only good to know under it. */
function say(text, above, button) {
  var page = document.querySelector(".md-content__inner");
  if (line && line.isConnected && line.dataset.said === text) return;
  if (!line) {
    line = document.createElement("p");
    line.className = "sop-issue";
    line.setAttribute("role", "status");
  }
  if (above) page.prepend(line); else page.append(line);
  line.dataset.said = text;
  line.textContent = text;
  if (button) line.append(" ", button);
}

function takeButton() {
  var button = document.createElement("button");
  button.type = "button";
  button.className = "sop-button";
  button.textContent = "Take the new issue";
  button.addEventListener("click", async function () {
    if (await jobRuns()) show(); else worker.controller.postMessage("take");
  });
  return button;
}

async function show() {
  if (!told) return;
  if (!told.used) {
    if (told.failed) say("The manual could not be kept on this device: " + told.failed + ". It is tried again.");
    return;
  }
  var runs = await jobRuns();
  shown = shown || told.used.code;
  if (shown !== told.used.code) {
    if (!runs) window.location.reload();
    else say("This page is of the issue before. It is opened anew when this job is done.", true);
  } else if (told.waiting) {
    var words = "A new issue is here, " + issue(told.waiting) + ".";
    if (runs) say(words + " It is offered when this job is done.", true); else say(words, true, takeButton());
  } else if (told.failed) say("A new issue could not be kept on this device: " + told.failed + ". It is tried again.");
  else say("Kept on this device, opens without a network: the issue " + issue(told.used) + ".");
}

/* Asked at each page, and when somebody comes back to one. */
function look() {
  worker.ready.then(function (registration) { registration.active.postMessage("look"); });
}

new MutationObserver(holdWhileViewed).observe(document.documentElement, { attributeFilter: ["class"] });
worker.addEventListener("message", function (event) { told = event.data; show(); });
window.setInterval(show, LOOK_AGAIN);
document.addEventListener("visibilitychange", function () { if (!document.hidden) look(); });
worker.register(root + "worker.js", { updateViaCache: "none" }).then(look)
  .catch(function () {}); // no room, or not allowed here: the site works as any other, with a network
})();
