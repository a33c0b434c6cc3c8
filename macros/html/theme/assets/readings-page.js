/* The page of the readings on this phone: the list, the files for the house log, and a form for a whole sheet. */
(function () {
"use strict";

var our = window.readings, make = our.make, VISIT = 3 * 3600000;

/* ---- the files ---- */

function cell(text) { return /[",\r\n]/.test(text) ? '"' + text.replace(/"/g, '""').replace(/[\r\n]+/g, " ") + '"' : text; }
function csv(columns, rows) {
  return [columns].concat(rows.map(function (row) { return columns.map(function (name) { return cell(row[name] || ""); }); }))
    .map(function (line) { return line.join(","); }).join("\r\n") + "\r\n";
}
function byTime(a, b) { return (a.day + a.time < b.day + b.time ? -1 : a.day + a.time > b.day + b.time ? 1 : a.at - b.at); }

/* One row a visit, as on paper. A second reading of one column begins another row; of two that were left behind
   (ec_after, ph_after) the last is the log's, and the one before it goes among the other values. */
function visits(list) {
  var rows = [], others = list.filter(function (one) { return !one.column; });
  list.filter(function (one) { return one.column; }).sort(byTime).forEach(function (one) {
    if (/^acid_/.test(one.column) && Number(one.value) === 0) return; // nothing was poured
    var found = rows.filter(function (row) { return row.of === one.page + one.system + one.day; }).pop(), after = /_after/.test(one.column);
    if (!found || one.at - found.at > VISIT || (found.row[one.column] && !after)) {
      found = { of: one.page + one.system + one.day, at: one.at, from: {}, row: { date: one.day, time: one.time, system: one.system, note: one.note } };
      rows.push(found);
    }
    if (found.from[one.column]) others.push(found.from[one.column]);
    found.from[one.column] = one;
    found.row[one.column] = one.value;
    found.row.by = found.row.by || one.who;
    if (one.stock) found.row.acid_chemical = one.stock;
  });
  return { log: rows.map(function (one) { return one.row; }), records: others.sort(byTime).map(record) };
}
function record(one) {
  return { date: one.day, time: one.time, page: one.page, system: one.system, step: one.step, what: one.label, value: one.value,
    unit: one.unit, limits: one.limits, outside: one.out ? "yes" : "", by: one.who };
}

/* Given away where the device can, else saved; `done` is called once it really left. */
function leave(name, text, done) {
  var file = new File([text], name, { type: "text/csv" });
  if (navigator.canShare && navigator.canShare({ files: [file] })) {
    navigator.share({ files: [file] }).then(done, function (error) { if (error.name !== "AbortError") save(file, done); });
  } else save(file, done);
}
function save(file, done) {
  var link = make("a"), address = URL.createObjectURL(file);
  link.href = address;
  link.download = file.name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(function () { URL.revokeObjectURL(address); }, 60000);
  done();
}

/* ---- the list ---- */

function button(text, act) {
  var made = make("button", "sop-button", text);
  made.type = "button";
  made.addEventListener("click", act);
  return made;
}
function mark(ids) {
  var when = our.now(), list = our.entries();
  list.forEach(function (one) { if (ids.indexOf(one.id) >= 0) { one.sent = when.day + " " + when.time; one.open = false; } });
  our.keep(list);
}
/* A second tap deletes; one that comes with the first does not count. */
function deleting(id) {
  var first = 0, made = button("Delete", function () {
    var at = Date.now();
    if (!first) {
      first = at;
      made.textContent = "Tap again to delete";
      setTimeout(function () { first = 0; made.textContent = "Delete"; }, 5000);
    } else if (at - first > 400) our.keep(our.entries().filter(function (one) { return one.id !== id; }));
  });
  return made;
}
function correcting(one, item) {
  return button("Correct", function () {
    var form = make("form", "reading-correct"), label = make("label", "", one.label + " "), input = make("input", "reading-value"), said = make("p", "reading-said");
    input.type = "text";
    if (one.number) input.inputMode = "decimal";
    input.value = one.value;
    said.setAttribute("role", "status");
    label.append(input);
    form.append(label, make("button", "sop-button", "Keep"), said);
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var judged = our.judge(one, input.value), list = our.entries(), mine = list.find(function (other) { return other.id === one.id; });
      if (!mine || judged.state === "unread" || judged.state === "empty") { said.textContent = judged.lines[0] || "Type a value, or delete the line."; return; }
      our.change(mine, judged);
      input.blur();
      our.keep(list);
    });
    item.textContent = "";
    item.append(form);
    input.focus();
  });
}
function line(one) {
  var item = make("li", "reading-entry"), head = make("p", ""), foot = make("p", "sop-more");
  head.append(one.label + ": ", make("strong", "", one.value + (one.unit && one.label.indexOf(one.unit) < 0 ? " " + one.unit : "")));
  if (one.out) head.append(" ", make("b", "sop-mark", "OUTSIDE"));
  foot.textContent = [one.title, one.day + " " + one.time, one.who, one.sent ? "sent " + one.sent : "not sent yet"].filter(Boolean).join(" · ");
  item.append(head, foot);
  if (one.out) our.judge(one, one.value).lines.forEach(function (text) { item.append(make("p", "reading-todo", text)); });
  item.append(correcting(one, item), deleting(one.id));
  return item;
}

function files(place, data, list) {
  var parts = visits(list.filter(function (one) { return !one.sent; })), again = list.length && list.every(function (one) { return one.sent; });
  if (again) parts = visits(list);
  var chosen = list.filter(function (one) { return again || !one.sent; });
  var logged = chosen.filter(function (one) { return one.column; }).map(function (one) { return one.id; });
  var moved = chosen.filter(function (one) { return !one.column; }).map(function (one) { return one.id; });
  var both = parts.log.length && parts.records.length;
  function offer(name, columns, rows, ids, what) {
    if (!rows.length) return;
    place.append(button((again ? "Give again: " : "Give to the house: ") + what, function () {
      leave(name + "-" + our.now().day + ".csv", csv(columns, rows), function () { mark(ids); });
    }));
  }
  offer("tank-log", data.log, parts.log, logged, parts.log.length + (parts.log.length === 1 ? " row of the tank log" : " rows of the tank log"));
  offer("records", data.records, parts.records, moved, parts.records.length + (parts.records.length === 1 ? " other value" : " other values"));
  if (both) place.append(make("p", "", "Two files: the log of the tanks, and all other values."));
}

function showList(place, data) {
  var list = our.entries().slice().sort(byTime).reverse(), out = list.filter(function (one) { return !one.sent; }).length;
  place.textContent = "";
  place.append(make("p", "", list.length ? list.length + " kept here, " + out + " not sent yet." : "Nothing typed on this device yet."), our.initials());
  if (!window.kept.works) place.append(make("p", "sop-draft", "This device keeps nothing: write on paper."));
  files(place, data, list);
  var shown = make("ul", "reading-list");
  list.forEach(function (one) { shown.append(line(one)); });
  place.append(shown);
}

/* ---- the form ---- */

function labelled(text, input) {
  var label = make("label", "reading-when", text + " ");
  label.append(input);
  return label;
}
function inputOf(type, value) {
  var made = make("input");
  made.type = type;
  made.value = value;
  return made;
}
function showForm(place, data) {
  var choice = make("select"), rows = make("div", "reading-rows"), when = our.now(), day = inputOf("date", when.day), time = inputOf("time", when.time);
  day.max = when.day;
  choice.append(new Option("Choose the page", ""));
  data.pages.forEach(function (page) { choice.append(new Option(page.key + " " + page.title, page.key)); });
  choice.value = window.kept.get("readings:page") || "";
  if (choice.selectedIndex < 0) choice.value = "";
  function sheetOf() { return { day: day.value || when.day, time: time.value || when.time }; }
  function fill() {
    var page = data.pages.find(function (one) { return one.key === choice.value; }), phase = "";
    rows.textContent = "";
    if (!page) return;
    window.kept.set("readings:page", page.key);
    page.rows.forEach(function (row) {
      if (row.phase && row.phase !== phase) { phase = row.phase; rows.append(make("h3", "", phase)); }
      var full = Object.assign({ outside: "", limits: "", number: "", unit: "", low: "", high: "", column: "", system: "", stock: "", note: "" }, row, { page: page.key, title: page.title, wrong: row.wrong.map(function (number) { return page.wrong[number]; }) });
      rows.append(make("p", "reading-do", row.no + ". " + row.do), our.field(full, sheetOf));
    });
    rows.append(make("p", "", "Kept as it is typed, in the list above."));
  }
  /* A form that was left half done goes on at its own time. */
  function goOn() {
    var last = our.entries().filter(function (one) { return one.page === choice.value && !one.open && !one.sent && Date.now() - one.at < VISIT; }).pop();
    if (last) { day.value = last.day; time.value = last.time; }
    fill();
  }
  choice.addEventListener("change", goOn);
  day.addEventListener("change", fill);
  time.addEventListener("change", fill);
  place.append(labelled("Page", choice), labelled("Day", day), labelled("Time", time), rows);
  goOn();
}

function init() {
  var place = document.getElementById("readings-list"), source = document.getElementById("readings-data");
  if (!place || place.dataset.ready) return;
  place.dataset.ready = "1";
  var data = JSON.parse(source.textContent);
  showList(place, data);
  showForm(document.getElementById("readings-form"), data);
}
document.addEventListener("readings-changed", function () {
  var place = document.getElementById("readings-list"), source = document.getElementById("readings-data");
  /* Not under the fingers of somebody who types in the list. */
  if (place && source && !place.contains(document.activeElement && document.activeElement.closest("input"))) showList(place, JSON.parse(source.textContent));
});

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
