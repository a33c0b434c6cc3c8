/* The timers of the manual on every page: a bar over the emergency bar, and a ring when one is due. */
(function () {
"use strict";

var AGAIN = 20000, MOST = 15, LISTEN = 1000;  /* milliseconds between two rings, rings in all; a tap sooner is no answer */
var root = document.querySelector('meta[name="root"]'), bar = null, sound = null, rung = {}, began = 0, told = null;

/* The address of a place of the manual. A manual in one file has its own way to tell it. */
function addressOf(address) {
  return window.addressOf ? window.addressOf(address) : new URL((root ? root.content : ".").replace(/\/?$/, "/") + address, document.baseURI).href;
}

function words(entry, now) {
  var name = entry.page + (entry.system ? " " + entry.system : "") + " step " + entry.number + ": ";
  return name + (now.state === "running" ? now.left + " to go" : now.state === "due" ? "due since " + window.timers.clock(entry.due) + ", " + entry.then : "too late. " + entry.missed);
}

/* The timers as links, what is due first. Links that stay are not made anew: a finger may be on them. */
function fill(list) {
  var now = Date.now(), timers = window.timers.all(), links = [].slice.call(list.querySelectorAll("a"));
  timers.forEach(function (entry, at) {
    var link = links[at] || list.appendChild(document.createElement("a")), stands = window.timers.standing(entry, now);
    var text = words(entry, stands);
    if (link.textContent !== text) link.textContent = text;
    link.href = addressOf(entry.address + "#" + entry.step);
    link.dataset.state = stands.state;
    link.dataset.timer = entry.id;
  });
  links.slice(timers.length).forEach(function (link) { link.remove(); });
  list.hidden = !timers.length;
}

function draw() {
  if (!document.body) return;
  if (!bar) {
    bar = document.createElement("nav");
    bar.className = "timers";
    bar.setAttribute("aria-label", "Timers");
    document.body.append(bar);
  }
  fill(bar);
  var help = document.querySelector(".sop-help"), under = help ? help.offsetHeight : 0;
  bar.style.bottom = under + "px";
  document.body.style.paddingBottom = bar.hidden ? "" : under + bar.offsetHeight + "px";
  ringIfDue();
}

/* ---- the ring: until somebody touches the manual, for five minutes at most */

function unheard() {
  var now = Date.now();
  return window.timers.all().map(function (entry) { return { entry: entry, state: window.timers.standing(entry, now).state }; })
    .filter(function (one) { return one.state !== "running" && one.entry.heard !== one.state; });
}

function ringIfDue() {
  var due = unheard(), plain = document.title.replace(/^DUE: .*? · /, "");
  var title = due.length ? "DUE: step " + due[0].entry.number + ", " + due[0].entry.page + " · " + plain : plain;
  if (document.title !== title) document.title = title;
  due.forEach(function (one) {
    var name = one.entry.id + one.entry.began + one.state, last = rung[name] || { at: 0, times: 0 };
    if (last.times >= MOST || Date.now() - last.at < AGAIN) return;
    if (!last.times) { began = Date.now(); say(one.entry); }
    rung[name] = { at: Date.now(), times: last.times + 1 };
    ring();
  });
}

function ring() {
  if (navigator.vibrate) navigator.vibrate([400, 200, 400, 200, 400]);
  if (!sound || sound.state !== "running") return;
  [0, 0.5, 1].forEach(function (after) {
    var tone = sound.createOscillator(), loud = sound.createGain(), at = sound.currentTime + after;
    tone.type = "square";
    tone.frequency.value = 880;
    loud.gain.setValueAtTime(0.4, at);
    loud.gain.exponentialRampToValueAtTime(0.001, at + 0.4);
    tone.connect(loud).connect(sound.destination);
    tone.start(at);
    tone.stop(at + 0.4);
  });
}

/* Once for a reader of the screen, once for who looks at another window. */
function say(entry) {
  var text = words(entry, window.timers.standing(entry, Date.now()));
  if (!told) { told = document.createElement("p"); told.className = "timers-told"; told.setAttribute("role", "alert"); }
  (document.querySelector("dialog[open]") || document.body).append(told);
  told.textContent = text;
  if (!document.hidden || !("Notification" in window) || Notification.permission !== "granted") return;
  try { new Notification(text, { tag: entry.id }); } catch (error) {  /* a phone tells through its service worker alone */
    if (navigator.serviceWorker) navigator.serviceWorker.ready.then(function (worker) { worker.showNotification(text, { tag: entry.id }); });
  }
}

/* A browser lets a page sound after a first touch: that touch opens the way, and is no answer to what was not heard yet. */
function openSound() {
  var Sound = window.AudioContext || window.webkitAudioContext, first = !sound && Boolean(Sound);
  if (first) sound = new Sound();
  if (sound && sound.state === "suspended") sound.resume();
  return first;
}

function touched(event) {
  if (!event.isTrusted || !window.timers.all().length) return;
  if (openSound() && unheard().length) { ring(); return; }
  if (Date.now() - began < LISTEN) return;
  unheard().forEach(function (one) { window.timers.hear(one.entry, one.state); });
}

/* Asked for when it is needed, and not before. */
document.addEventListener("timer-started", function () {
  openSound();
  if ("Notification" in window && Notification.permission === "default") {
    try { Notification.requestPermission().catch(function () {}); } catch (error) { return; }
  }
});
document.addEventListener("timers", draw);
["pointerdown", "keydown"].forEach(function (name) { document.addEventListener(name, touched, true); });
window.timers.fill = fill;

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", draw); else draw();
})();
