/* What each screen of the view shows: an amount before its sentence, a condition as large as an amount, the reason last. */
(function () {
"use strict";

function make(name, style, text) {
  var made = document.createElement(name);
  made.className = style;
  if (text) made.textContent = text;
  return made;
}

/* Parts of the page stand in the view without their own places: an id is there once. */
function copy(node) {
  var made = node.cloneNode(true);
  if (made.nodeType === Node.ELEMENT_NODE) [made].concat([].slice.call(made.querySelectorAll("[id]"))).forEach(function (one) { one.removeAttribute("id"); });
  return made;
}

/* The numbers, not as links: a wet finger on a number leaves for nothing. */
function amounts(row) {
  var made = make("div", "one-amt");
  row.querySelectorAll(".sop-amt__one").forEach(function (one) {
    var shown = copy(one), link = shown.querySelector("a");
    link.replaceWith.apply(link, [].slice.call(link.childNodes));
    made.append(shown);
  });
  return made;
}

function sentence(row) {
  var made = make("div", "one-do");
  row.querySelector(".sop-do").childNodes.forEach(function (node) {
    if (!(node.matches && node.matches(".sop-why, .sop-wait, .sop-looks"))) made.append(copy(node));
  });
  row.querySelectorAll(".sop-amt__tool").forEach(function (tool) { made.append(make("span", "sop-more", "With: " + tool.textContent)); });
  return made;
}

function away(link, text) {
  var made = make("a", "one-away", text);
  made.href = link.href;
  made.target = "_blank";
  made.rel = "noopener";
  return made;
}

/* What may be looked at after what must be: tables, pictures, workings, the reason. */
function more(row) {
  var made = make("div", "one-more");
  row.querySelectorAll(".sop-looks a").forEach(function (link) {
    var table = document.getElementById(link.hash.slice(1));
    if (table) made.append(copy(table));
  });
  if (row.querySelector(".sop-looks")) document.querySelectorAll('.sop-links[aria-label="Reckoners"] a').forEach(function (link) {
    made.append(away(link, link.textContent));
  });
  row.querySelectorAll(".sop-pics").forEach(function (pictures) {
    pictures = copy(pictures);
    pictures.className = "one-pics";
    made.append(pictures);
  });
  row.querySelectorAll(".sop-why").forEach(function (reason) { made.append(copy(reason)); });
  row.querySelectorAll(".sop-amt__one a").forEach(function (link) { made.append(away(link, "How " + link.textContent + " is worked out")); });
  return made;
}

function step(screen) {
  var row = screen.row, must = make("div", "one-must"), numbers = amounts(row), whole = make("div", "one-step");
  if (row.dataset.condition) must.append(make("p", "one-if", row.dataset.condition + ":"));
  if (numbers.childNodes.length) must.append(numbers);
  must.append(sentence(row));
  if (window.readings) must.append(window.readings.fieldsFor(row));
  whole.append(must, more(row));
  return whole;
}

function notice(screen) {
  var must = make("div", "one-must");
  must.append(copy(screen.node));
  return must;
}

/* A wait is a screen: what is left of it in the largest type. `draw` writes it anew each second. */
function wait(screen) {
  var row = screen.row, whole = make("div", "one-step"), must = make("div", "one-must"), timed = row.dataset.least !== undefined;
  var big = make("p", "one-left"), line = make("p", "one-line"), words = row.querySelector(".sop-wait");
  must.append(big, line);
  if (words) { var told = make("div", "one-do"); told.append(copy(words)); must.append(told); }
  whole.append(must);
  if (screen.node) whole.append(copy(screen.node));
  if (timed) whole.append(buttons(row));
  big.hidden = line.hidden = !timed;
  whole.draw = function () {
    if (!timed) return;
    var entry = window.timers.get(window.timers.idOf(row)), now = entry ? window.timers.standing(entry, Date.now()) : null;
    var text = now ? now.left : row.dataset.least + " min";
    if (big.textContent !== text) big.textContent = text;
    text = now ? now.text : "Not timed yet.";
    if (line.textContent !== text) line.textContent = text;
    whole.dataset.state = now ? now.state : "none";
    whole.querySelector(".one-stop").hidden = !entry;
  };
  whole.draw();
  return whole;
}

function buttons(row) {
  var made = make("div", "one-buttons"), id = window.timers.idOf(row);
  var start = make("button", "sop-button", "Start " + row.dataset.least + " min"), stop = make("button", "sop-button one-stop", "Stop");
  start.type = stop.type = "button";
  start.addEventListener("click", function () {
    if (window.timers.get(id) && !start.dataset.asked) { start.dataset.asked = "1"; start.textContent = "Restart? Press again"; return; }
    delete start.dataset.asked;
    start.textContent = "Start " + row.dataset.least + " min";
    window.timers.start(row);
  });
  stop.addEventListener("click", function () { window.timers.stop(id); });
  made.append(start, stop);
  return made;
}

function end() {
  var must = make("div", "one-must"), running = window.timers.ofPage().length;
  must.append(make("p", "one-do", "All steps done. Now: done when, clean-up, records."));
  if (running) must.append(make("p", "one-if", "A timer of this page still runs: " + running + "."));
  return must;
}

/* The question of the ticks; once it is answered the view begins. */
function ask(screen) {
  var must = make("div", "one-must"), question = window.ticks.page().question();
  question.addEventListener("click", function (event) { if (event.target.matches("button")) screen.answered(); });
  must.append(question);
  return must;
}

window.oneCards = { step: step, caution: notice, leave: notice, wait: wait, end: end, ask: ask, make: make };
})();
