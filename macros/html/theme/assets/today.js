/* What is due today and this week, and what is overdue, on the phone's own date. */
(function () {
"use strict";

var LOOK_BACK = 30, WEEK = 7;

/* Days as whole numbers, so that no change of the clock shifts one. */
function number(iso) {
  var parts = iso.split("-").map(Number);
  return Date.UTC(parts[0], parts[1] - 1, parts[2]) / 86400000;
}
function iso(day) { return new Date(day * 86400000).toISOString().slice(0, 10); }
function weekday(day) { return ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"][new Date(day * 86400000).getUTCDay()]; }
function ownDay() {
  var now = new Date();
  return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 86400000;
}

/* The days of an entry from `from` to `to`, both included. */
function daysOf(entry, from, to) {
  var found = (entry.days || []).map(number).filter(function (day) { return day >= from && day <= to; });
  if (entry.every) {
    var start = number(entry.start), end = entry.end ? Math.min(number(entry.end), to) : to;
    var day = start >= from ? start : start + Math.ceil((from - start) / entry.every) * entry.every;
    for (; day <= end; day += entry.every) found.push(day);
  }
  return found.sort(function (a, b) { return a - b; });
}

/* {overdue, unknown, today, week}: lists of {entry, day}. `done(entry, day)` says whether it is ticked. What comes every
   day is never overdue. Before the day `since` this phone kept no ticks: what was due then is unknown, and not overdue. */
function due(data, day, done, since) {
  var lists = { overdue: [], unknown: [], today: [], week: [] };
  data.entries.forEach(function (entry) {
    daysOf(entry, day, day).forEach(function () { lists.today.push({ entry: entry, day: day }); });
    if (entry.every === 1) return;
    daysOf(entry, day + 1, day + WEEK - 1).forEach(function (one) { lists.week.push({ entry: entry, day: one }); });
    var past = daysOf(entry, Math.max(day - LOOK_BACK, number(data.first)), day - 1);
    if (entry.again) past = past.slice(-1); // doing it once makes good for the rounds before
    past.forEach(function (one) { if (!done(entry, one)) (one < since ? lists.unknown : lists.overdue).push({ entry: entry, day: one }); });
  });
  function order(a, b) { return a.day - b.day || (a.entry.title < b.entry.title ? -1 : a.entry.title > b.entry.title ? 1 : 0); }
  Object.keys(lists).forEach(function (name) { lists[name].sort(order); });
  return lists;
}
window.dueOnDay = function (data, isoDay, done) {
  var lists = due(data, number(isoDay), done || function () { return false; }, 0);
  Object.keys(lists).forEach(function (name) { lists[name] = lists[name].map(function (one) { return [iso(one.day), one.entry.title]; }); });
  return lists;
};

function init() {
  var place = document.getElementById("today-lists"), source = document.getElementById("today-data");
  if (!place || place.dataset.ready) return;
  place.dataset.ready = "1";
  var data = JSON.parse(source.textContent), input = document.getElementById("today-day"), now = document.getElementById("today-now");
  var kept = window.kept.get("today") || {}, ticked = kept.ticked || {};
  /* The first day this page was opened on this phone; a clock set back later moves it back. */
  var since = Math.min(kept.since ? number(kept.since) : ownDay(), ownDay());
  save();

  function name(entry, day) { return iso(day) + " " + entry.key + " " + entry.title; }
  function done(entry, day) { return Boolean(ticked[name(entry, day)]); }
  function save() {
    var oldest = iso(ownDay() - 2 * LOOK_BACK);
    Object.keys(ticked).forEach(function (one) { if (one.slice(0, 10) < oldest) delete ticked[one]; });
    window.kept.set("today", { since: iso(since), ticked: ticked });
  }

  function element(kind, style, text) {
    var made = document.createElement(kind);
    if (style) made.className = style;
    if (text) made.textContent = text;
    return made;
  }

  function row(one, day, list) {
    var entry = one.entry, item = element("li", "today-item"), label = element("label", "sop-tick"), box = element("input");
    box.type = "checkbox";
    box.checked = done(entry, one.day);
    box.setAttribute("aria-label", entry.title + " done");
    box.addEventListener("change", function () {
      if (box.checked) ticked[name(entry, one.day)] = 1; else delete ticked[name(entry, one.day)];
      save(); // the row stays until the page is opened again: nothing moves under the finger
    });
    label.append(box);
    var words = element("div", "today-words");
    if (entry.system) words.append(element("b", "today-system", entry.system), " ");
    if (entry.address) {
      var link = element("a", "", entry.title);
      link.href = entry.address;
      words.append(link);
    } else words.append(element("strong", "", entry.title));
    if (one.day !== day) words.append(element("span", "sop-more", (list === "overdue" ? "was due " : "") + weekday(one.day) + " " + iso(one.day)));
    if (entry.detail) words.append(element("span", "sop-more", entry.detail));
    item.append(label, words);
    return item;
  }

  /* Folded away: a phone that was not there cannot say whether it was done. A tick here still counts. */
  function unknown(found, day) {
    var box = element("details", "today-unknown"), list = element("ul", "today-list");
    box.append(element("summary", "", "Not known on this phone (" + found.length + "): due before " + iso(since) + ", when it was first opened here. The record forms tell."));
    found.forEach(function (one) { list.append(row(one, day, "overdue")); });
    box.append(list);
    return box;
  }

  function show() {
    var day = input.value ? number(input.value) : ownDay();
    place.textContent = "";
    now.hidden = day === ownDay();
    if (day < number(data.first) || day > number(data.last)) {
      place.append(element("p", "sop-draft", "This manual knows what is due from " + data.first + " to " + data.last + ". " + iso(day) + " is outside. Ask for a new build."));
      return;
    }
    var lists = due(data, day, done, since);
    [["today", weekday(day) + " " + iso(day), "Nothing is due."], ["overdue", "Overdue", "Nothing is overdue that this phone knows of."], ["week", "The six days after", "Nothing more this week."]].forEach(function (part) {
      place.append(element("h2", "", part[1]));
      if (!lists[part[0]].length) { place.append(element("p", "", part[2])); return; }
      var list = element("ul", "today-list");
      lists[part[0]].forEach(function (one) { list.append(row(one, day, part[0])); });
      place.append(list);
    });
    if (lists.unknown.length) place.append(unknown(lists.unknown, day));
    if (!window.kept.works) place.append(element("p", "", "Ticks are not kept on this device."));
  }

  input.value = iso(ownDay());
  input.addEventListener("change", show);
  now.addEventListener("click", function () { input.value = iso(ownDay()); show(); });
  document.addEventListener("visibilitychange", function () { if (!document.hidden && now.hidden) { input.value = iso(ownDay()); show(); } });
  show();
}

if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
