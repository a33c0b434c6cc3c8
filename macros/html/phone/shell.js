/* The manual as one file: shows one page after another, by the address after the #, as the site has it: #p/sop-01.html#step-3.
   The scripts of the pages are those of the site. They begin anew at each page, told by `document$`. */
(function () {
"use strict";

var HOME = "index.html", MOST_FOUND = 30;
var place = document.getElementById("page"), field = document.getElementById("find"), found = document.getElementById("found");
var followers = [], pages = {}, shown = "", entries = null, texts = null;
var pictures = JSON.parse(document.getElementById("pictures").textContent);
var houseName = document.querySelector('meta[name="house"]').content;

window.addressOf = function (address) { return "#" + address; }; // of a script that makes links from the root of the manual
window.document$ = { subscribe: function (follower) { followers.push(follower); } };
document.querySelectorAll("script[data-page]").forEach(function (page) { pages[page.dataset.page] = page; });

/* The end of a script and the begin of a comment stand in a page with a stroke, or they would end the page's own. */
function htmlOf(address) { return pages[address].textContent.replace(/<\\(?=\/script|script|!--)/gi, "<"); }

function asked() {
  var parts = decodeURIComponent(window.location.hash.slice(1)).split("#");
  return pages[parts[0]] ? { address: parts[0], id: parts[1] || "" } : { address: HOME, id: "" };
}

/* A link as the site has it becomes one within this file; what is not in it is no link. */
function lead(link) {
  var href = link.getAttribute("href");
  if (/^([a-z][a-z0-9+.-]*:|#[^#]*\.html)/i.test(href)) return;
  var there = new URL(href, "https://manual.invalid/" + shown), address = decodeURIComponent(there.pathname.slice(1));
  if (pages[address]) link.setAttribute("href", "#" + address + there.hash);
  else {
    link.removeAttribute("href");
    link.classList.add("not-here");
  }
}
function leadAll() { document.querySelectorAll("a[href]").forEach(lead); }
new MutationObserver(leadAll).observe(document.body, { childList: true, subtree: true });

function fill() {
  place.querySelectorAll("img[data-picture]").forEach(function (image) {
    var data = pictures[image.dataset.picture];
    if (data) image.src = data;
    else image.replaceWith(Object.assign(document.createElement("span"), { textContent: "Picture left out: " + image.alt }));
  });
  place.querySelectorAll("table").forEach(function (table) {
    if (table.closest(".sop-table, .dose")) return;
    var box = document.createElement("div");
    box.className = "sop-table";
    box.tabIndex = 0;
    box.setAttribute("role", "region");
    box.setAttribute("aria-label", "Table");
    table.replaceWith(box);
    box.append(table);
  });
}

function reveal(id) {
  var there = id && document.getElementById(id);
  if (!there) return false;
  for (var part = there; part; part = part.parentElement) if (part.localName === "details") part.open = true;
  there.scrollIntoView();
  return true;
}

/* Back leads to where one was on the page before: each entry of the history keeps its height. */
function show() {
  var there = asked(), height = (window.history.state || {}).height;
  closeFound();
  if (there.address !== shown) {
    var first = !shown;
    shown = there.address;
    field.value = "";
    place.innerHTML = htmlOf(shown);
    fill();
    leadAll();
    document.title = shown === HOME ? houseName : pages[shown].dataset.title + " - " + houseName;
    followers.forEach(function (follower) { follower(document); });
    if (!first) place.focus({ preventScroll: true });
  }
  if (height !== undefined) window.scrollTo(0, height);
  else if (!reveal(there.id)) window.scrollTo(0, 0);
}

var settling = 0;
window.addEventListener("scroll", function () {
  window.clearTimeout(settling);
  settling = window.setTimeout(function () { window.history.replaceState(Object.assign({}, window.history.state, { height: window.scrollY }), ""); }, 200);
});

/* ---- search: titles, headings, and where no title says it the text ---- */

function plain(html) { return new DOMParser().parseFromString(html, "text/html").body.textContent.trim(); }
function wordsOf(text) { return text.toLowerCase().match(/[\p{L}\p{N}]+/gu) || []; }

function readEntries() {
  var all = [];
  Object.keys(pages).forEach(function (address) {
    var title = pages[address].dataset.title, digits = (/sop-(\d+)/.exec(address) || [])[1];
    var number = digits ? ["sop", digits, Number(digits), "sop" + digits, "sop" + Number(digits)].join(" ") : "";
    all.push({ address: address, title: title, heading: "", words: wordsOf(title + " " + number) });
    var heading = /<h[23][^>]* id="([^"]+)"[^>]*>([^]*?)<\/h[23]>/g, html = htmlOf(address);
    for (var one = heading.exec(html); one; one = heading.exec(html)) {
      var text = plain(one[2]);
      all.push({ address: address + "#" + one[1], title: title, heading: text, words: wordsOf(text + " " + title + " " + number), own: wordsOf(text) });
    }
  });
  return all;
}

function holds(words, typed) {
  return typed.every(function (part) { return words.some(function (word) { return word.indexOf(part) === 0; }); });
}
/* Pages whose title says it, then headings that do, then headings of pages whose title says the rest. */
function find(typed) {
  entries = entries || readEntries();
  var titles = entries.filter(function (one) { return !one.own && holds(one.words, typed); });
  var heads = entries.filter(function (one) { return one.own && holds(one.own, typed); });
  var mixed = entries.filter(function (one) {
    return one.own && heads.indexOf(one) < 0 && holds(one.words, typed) && !holds(wordsOf(one.title), typed) && typed.some(function (part) { return holds(one.own, [part]); });
  });
  return titles.concat(heads, mixed);
}

/* Pages whose text has every word, those that have them oftenest first. */
function findInText(typed) {
  texts = texts || Object.keys(pages).map(function (address) {
    return { address: address, title: pages[address].dataset.title, heading: "", text: plain(htmlOf(address)).toLowerCase() };
  });
  function times(one) { return Math.min.apply(null, typed.map(function (part) { return one.text.split(part).length - 1; })); }
  return texts.filter(times).sort(function (one, other) { return times(other) - times(one); });
}

function closeFound() { found.hidden = true; found.textContent = ""; }
function counted(all, where) {
  if (!all.length) return "Nothing found. Try one word of it.";
  return all.length + (all.length === 1 ? " place" : " places") + " in " + where + (all.length > MOST_FOUND ? ", the first " + MOST_FOUND + " are shown." : ".");
}
function item(one) {
  var made = document.createElement("li"), link = document.createElement("a");
  link.href = "#" + one.address;
  link.textContent = one.heading ? one.heading + " (" + one.title + ")" : one.title;
  link.addEventListener("click", closeFound);
  made.append(link);
  return made;
}
function showFound() {
  var typed = wordsOf(field.value), list = document.createElement("ul"), count = document.createElement("p");
  closeFound();
  if (!typed.length) return;
  var all = find(typed), where = "titles and headings";
  if (!all.length) { all = findInText(typed); where = "the text of pages"; }
  all.slice(0, MOST_FOUND).forEach(function (one) { list.append(item(one)); });
  count.setAttribute("role", "status");
  count.textContent = counted(all, where);
  found.append(count, list);
  found.hidden = false;
}
field.addEventListener("input", showFound);
document.querySelector(".shell-find").addEventListener("submit", function (event) {
  event.preventDefault();
  var first = found.querySelector("a");
  if (first) window.location.hash = first.getAttribute("href");
});
document.addEventListener("keydown", function (event) { if (event.key === "Escape") closeFound(); });

/* ---- light or dark, as the device is ---- */

var dark = window.matchMedia("(prefers-color-scheme: dark)");
function dress() { document.body.dataset.mdColorScheme = dark.matches ? "slate" : "default"; }
dark.addEventListener("change", dress);
dress();

window.history.scrollRestoration = "manual";
window.addEventListener("hashchange", show);
show();
})();
