/* Keeps one whole issue of the manual on a device, and gives pages from it, with a network or without.

   The site lists its files with a hash each (issue.json). An issue is fetched into a store named by its code, each file
   held against its hash, and the list is put in last: a store without its list is half an issue and is never read. Which
   issue is in use says one entry. Only a person moves it: a new issue waits until a page sends "take". */
"use strict";

var HERE = self.registration.scope, LIST = "issue.json", NOT_FOUND = "404.html", AT_ONCE = 6;
var OWN = "manual " + HERE + " ", STATE = OWN + "in use"; // two manuals on one server stay apart

function at(address) { return new URL(address, HERE).href; }
function kept(code, address) { return caches.match(at(address), { cacheName: OWN + code }); }

/* The code of the issue in use; empty before the first is whole. */
async function inUse() {
  var said = await caches.match(at("in-use"), { cacheName: STATE });
  return said ? said.text() : "";
}
async function use(code) { await (await caches.open(STATE)).put(at("in-use"), new Response(code)); }

/* The list of an issue that is whole on this device, or null. */
async function whole(code) {
  var list = code ? await kept(code, LIST) : null;
  return list ? list.json() : null;
}

async function codes() {
  return (await caches.keys()).filter(function (name) { return name.indexOf(OWN) === 0 && name !== STATE; })
    .map(function (name) { return name.slice(OWN.length); });
}
async function onlyKeep(wanted) {
  var gone = (await codes()).filter(function (code) { return wanted.indexOf(code) < 0; });
  await Promise.all(gone.map(function (code) { return caches.delete(OWN + code); }));
}

/* A whole issue that waits to be taken, or null. */
async function waiting() {
  var used = await inUse(), lists = await Promise.all((await codes()).map(whole));
  return lists.find(function (list) { return list && list.code !== used; }) || null;
}

async function hash(bytes) {
  var digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, function (byte) { return byte.toString(16).padStart(2, "0"); }).join("");
}

/* One file into the store: from the issue in use where it is the same there, else from the server, held against its hash. */
async function keepFile(store, address, wanted, used) {
  if (await store.match(at(address))) return; // the network went away and is back: what is here was held against its hash
  if (used && used.files[address] === wanted) {
    var same = await kept(used.code, address);
    if (same) return store.put(at(address), same);
  }
  var answer = await fetch(at(address), { cache: "no-store" }), bytes = await answer.arrayBuffer();
  if (!answer.ok || (await hash(bytes)) !== wanted) throw new Error(address + " is not the file of this issue");
  return store.put(at(address), new Response(bytes, { headers: { "Content-Type": answer.headers.get("Content-Type") || "" } }));
}

async function keep(list) {
  var store = await caches.open(OWN + list.code), used = await whole(await inUse());
  var left = Object.keys(list.files);
  async function work() {
    for (var address = left.pop(); address; address = left.pop()) await keepFile(store, address, list.files[address], used);
  }
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  await store.put(at(LIST), new Response(JSON.stringify(list)));
}

/* Is there another issue on the server? Without a network all stays as it is. */
async function look() {
  var list = await fetch(at(LIST), { cache: "no-store" }).then(function (answer) { return answer.ok ? answer.json() : null; })
    .catch(function () { return null; });
  if (!list) return "";
  var used = await inUse();
  await onlyKeep([used, list.code]); // half of an issue that is no more, and a waiting one that was overtaken
  if (!(await whole(list.code))) {
    try { await keep(list); } catch (error) { return error.message; }
  }
  if (!(await whole(used))) await use(list.code);
  return "";
}

var looking = null;
function lookOnce() {
  looking = looking || look().finally(function () { looking = null; });
  return looking;
}

async function take() {
  var next = await waiting();
  if (!next) return;
  await use(next.code);
  await onlyKeep([next.code]);
}

function named(list) { return list ? { code: list.code, date: list.date } : null; }

/* Every open page hears how things stand. */
async function tell(failed) {
  var said = { used: named(await whole(await inUse())), waiting: named(await waiting()), failed: failed || "" };
  (await self.clients.matchAll()).forEach(function (page) { page.postMessage(said); });
}

async function answer(request) {
  var code = await inUse(), address = new URL(request.url);
  if (!code) return fetch(request); // no issue is whole yet
  address.search = "";
  address.hash = "";
  if (address.pathname.endsWith("/")) address.pathname += "index.html";
  var found = await kept(code, address.href);
  if (found) return found;
  var none = request.mode === "navigate" ? await kept(code, NOT_FOUND) : null;
  return none ? new Response(await none.arrayBuffer(), { status: 404, headers: none.headers }) : fetch(request);
}

self.addEventListener("install", function () { self.skipWaiting(); }); // which issue is in use does not hang on the worker
self.addEventListener("activate", function (event) { event.waitUntil(self.clients.claim()); });
self.addEventListener("fetch", function (event) {
  if (event.request.method === "GET" && event.request.url.indexOf(HERE) === 0) event.respondWith(answer(event.request));
});
self.addEventListener("message", function (event) {
  if (event.data === "look") event.waitUntil(tell().then(lookOnce).then(tell));
  if (event.data === "take") event.waitUntil(take().then(tell));
});
