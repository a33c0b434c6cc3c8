/* Values typed on the phone: a field beside each step that writes one, judged at once, kept on this device. */
(function () {
"use strict";

var ENTRIES = "readings:entries", WHO = "readings:who", HOUR = 3600000, RUN = 12 * HOUR, SEEN = 700, PAUSE = 800;

function make(name, style, text) {
  var made = document.createElement(name);
  if (style) made.className = style;
  if (text) made.textContent = text;
  return made;
}
function two(number) { return String(number).padStart(2, "0"); }
function now() {
  var at = new Date();
  return { at: at.getTime(), day: at.getFullYear() + "-" + two(at.getMonth() + 1) + "-" + two(at.getDate()), time: two(at.getHours()) + ":" + two(at.getMinutes()) };
}

function entries() { return window.kept.get(ENTRIES) || []; }
/* Everybody who shows an entry is told, so that the page and the view of one step never differ. */
function keep(list) {
  var kept = window.kept.set(ENTRIES, list);
  document.dispatchEvent(new Event("readings-changed"));
  return kept;
}
function who() { return window.kept.get(WHO) || ""; }

/* A number as people type it: one comma is the decimal comma, unless it may part thousands. {value} or {said}. */
function readNumber(text) {
  if (/^[1-9][0-9]{0,2},[0-9]{3}$/.test(text))
    return { said: "“" + text + "” can be read in two ways. Type " + text.replace(",", ".") + ", or " + text.replace(",", "") + "." };
  if (/^[0-9]{1,6}([.,][0-9]{1,4})?$/.test(text)) return { value: text.replace(",", ".") };
  return { said: "“" + text + "” is no number. Type as 6.1, without the unit. It is not kept." };
}

/* {state, value, lines}: empty, in, out or unread. A row without numbers for its limits is in: a person compares. */
function judge(row, typed) {
  var text = typed.trim();
  if (!text) return { state: "empty", value: "", lines: [] };
  if (!row.number) return { state: "in", value: text, lines: [] };
  var read = readNumber(text);
  if (read.said) return { state: "unread", value: "", lines: [read.said] };
  var value = Number(read.value);
  if ((row.low && value < Number(row.low)) || (row.high && value > Number(row.high)))
    return { state: "out", value: read.value, lines: ["Outside its limits: " + row.limits + "."].concat(toDo(row)) };
  return { state: "in", value: read.value, lines: [] };
}
/* What the page says to do: the row's own words, else what it says of values out of range. */
function toDo(row) {
  if (row.outside) return ["Do: " + row.outside + "."];
  if (!row.wrong.length) return ["The next steps may set it right. If not, stop: see If something goes wrong."];
  return row.wrong.map(function (one) { return one[0].replace(/\.$/, "") + ": " + one[1]; });
}

/* The entry a field shows: of this run of the page, or of the sheet that is typed. `sheet` is null beside a step. */
function entryOf(list, row, sheet) {
  return list.find(function (one) {
    if (one.page !== row.page || one.step !== row.step) return false;
    return sheet ? one.day === sheet.day && one.time === sheet.time : one.open && Date.now() - one.at < RUN;
  });
}
function store(row, judged, sheet) {
  var list = entries(), entry = entryOf(list, row, sheet), when = now();
  if (judged.state === "empty" || judged.state === "unread") {
    /* What was typed wrong stands for nothing: the value before it would be one nobody means. */
    return entry ? keep(list.filter(function (one) { return one !== entry; })) : true;
  }
  if (!entry) {
    entry = { id: when.at + "-" + Math.random().toString(36).slice(2, 8), at: when.at, open: !sheet, sent: "", day: sheet ? sheet.day : when.day, time: sheet ? sheet.time : when.time };
    ["page", "title", "step", "label", "limits", "outside", "wrong", "number", "unit", "low", "high", "column", "system", "stock", "note"].forEach(function (name) { entry[name] = row[name]; });
    if (row.outside) entry.wrong = [];
    list.push(entry);
  } else if (entry.value === judged.value) return true;
  change(entry, judged);
  return keep(list);
}
/* A corrected value is a new one to the house: it leaves with the next file. */
function change(entry, judged) {
  entry.value = judged.value;
  entry.out = judged.state === "out";
  entry.who = who();
  entry.sent = "";
}

/* A field for one row: its label with limits, the value, and what is to be done. `sheetOf()` gives day and time of a sheet, or null. */
function field(row, sheetOf) {
  var made = make("div", "reading"), label = make("label", "reading-label"), input = make("input", "reading-value"), said = make("div", "reading-said"), pause = 0;
  var words = make("span", "reading-words", row.label);
  if (row.limits) words.append(make("span", "reading-limits", row.limits));
  label.append(words);
  input.type = "text";
  input.autocomplete = "off";
  input.maxLength = 120;
  if (row.number) input.inputMode = "decimal";
  said.setAttribute("role", "status");
  label.append(input);
  made.append(label, said);
  function show(judged, kept) {
    var lines = judged.lines.slice();
    if (!kept) lines.push("This device keeps nothing: write it on the sheet.");
    made.dataset.state = judged.state;
    if (said.dataset.text === lines.join("\n")) return;
    said.dataset.text = lines.join("\n");
    said.textContent = "";
    lines.forEach(function (line, at) { said.append(make("p", at ? "" : "reading-first", line)); });
    made.shownAt = Date.now();
    if (lines.length && document.activeElement === input) made.scrollIntoView({ block: "nearest" });
  }
  function settle() {
    clearTimeout(pause);
    var judged = judge(row, input.value);
    show(judged, store(row, judged, sheetOf()));
  }
  made.refresh = function () {
    if (document.activeElement === input) return;
    var entry = entryOf(entries(), row, sheetOf());
    if (!entry && made.dataset.state === "unread") return;
    input.value = entry ? entry.value : "";
    show(judge(row, input.value), true);
  };
  input.addEventListener("input", function () {
    /* Judged once the typing rests: the first digit of a good value is no bad value. */
    clearTimeout(pause);
    pause = setTimeout(settle, PAUSE);
  });
  input.addEventListener("change", settle);
  made.refresh();
  return made;
}

/* Initials are asked once, where the first value is typed. */
function initials() {
  var label = make("label", "reading-who", "Your initials, if you like "), input = make("input");
  input.type = "text";
  input.maxLength = 12;
  input.autocomplete = "off";
  input.value = who();
  input.addEventListener("change", function () {
    window.kept.set(WHO, input.value.trim());
    document.dispatchEvent(new Event("readings-changed"));
  });
  label.append(input);
  return label;
}

/* Spaces that keep a line together are of the page, not of the value. */
function plain(text) { return text.replace(/\u00a0/g, " "); }
function rowOf(step) {
  var bar = document.querySelector("[data-ticks]"), data = step.dataset, head = document.querySelector("h1"), system = document.querySelector(".sop-system");
  var signs = [].map.call(document.querySelectorAll("tr[data-out]"), function (line) { return [plain(line.children[0].textContent), plain(line.children[1].textContent)]; });
  var row = { page: bar.dataset.ticks.split("|")[0], title: plain(head.textContent.trim()) + (system ? ", " + system.textContent : ""), step: data.stepId };
  row.wrong = (data.wrong || "").split(" ").filter(Boolean).map(function (number) { return signs[number]; });
  ["label", "limits", "outside", "number", "unit", "low", "high", "column", "system", "stock", "note"].forEach(function (name) { row[name] = plain(data[name] || ""); });
  return row;
}
function none() { return null; }

window.readings = {
  /* The field of a step, to be placed where the step is shown; nothing for a step that writes no value. */
  fieldsFor: function (step) {
    var made = document.createDocumentFragment();
    if (!step.hasAttribute("data-record")) return made;
    made.append(field(rowOf(step), none));
    if (!who()) made.append(initials());
    return made;
  },
  entries: entries, keep: keep, judge: judge, change: change, field: field, initials: initials, now: now, make: make,
};

function init() {
  var bar = document.querySelector("[data-ticks]");
  if (!bar || bar.dataset.readingsReady) return;
  bar.dataset.readingsReady = "1";
  var first = true;
  document.querySelectorAll(".sop-step[data-record]").forEach(function (step) {
    var place = make("div", "reading-place");
    place.append(field(rowOf(step), none));
    if (first && !who()) place.append(initials());
    first = false;
    step.append(place);
  });
}

document.addEventListener("readings-changed", function () {
  document.querySelectorAll(".reading").forEach(function (one) { if (one.refresh) one.refresh(); });
  document.querySelectorAll(".reading-who input").forEach(function (input) { if (input !== document.activeElement) input.value = who(); });
});
/* Another run of the page begins: what was typed stays in the list, and the fields are empty again. */
document.addEventListener("ticks-reset", function () {
  var bar = document.querySelector("[data-ticks]"), list = entries();
  if (!bar) return;
  list.forEach(function (one) { if (one.page === bar.dataset.ticks.split("|")[0]) one.open = false; });
  keep(list);
});
/* The tap that leaves a field shows what to do and passes the step as well: it counts for the first only. */
document.addEventListener("click", function (event) {
  if (!event.target.closest || !event.target.closest(".one-next")) return;
  var open = [].some.call(document.querySelectorAll(".one .reading"), function (one) {
    return /out|unread/.test(one.dataset.state) && Date.now() - one.shownAt < SEEN;
  });
  if (open) { event.preventDefault(); event.stopPropagation(); }
}, true);
/* The form of a page is the one its link names. */
document.addEventListener("click", function (event) {
  var link = event.target.closest && event.target.closest("a[data-readings]");
  if (link) window.kept.set("readings:page", link.dataset.readings);
});

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
