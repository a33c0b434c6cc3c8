/* What pages keep on the device, under the name of the house: two manuals opened on one phone stay apart. */
(function () {
"use strict";

var named = document.querySelector('meta[name="house"]');
var own = "house:" + (named ? named.content : "") + ":";

function store() {
  try {
    var found = window.localStorage;
    found.setItem(own, "1");
    found.removeItem(own);
    return found;
  } catch (error) { return null; }
}

var found = store();

window.kept = {
  /* Whether this device keeps anything: a page that cannot keep says so. */
  works: Boolean(found),
  get: function (name) {
    try { return JSON.parse(found.getItem(own + name)); } catch (error) { return null; }
  },
  /* Whether it is kept now; a full device keeps no more. */
  set: function (name, value) {
    try { found.setItem(own + name, JSON.stringify(value)); return true; } catch (error) { return false; }
  },
  remove: function (name) { if (found) found.removeItem(own + name); },
  /* The names of this house that begin so. */
  names: function (start) {
    return found ? Object.keys(found).filter(function (key) { return key.indexOf(own + start) === 0; })
      .map(function (key) { return key.slice(own.length); }) : [];
  },
};
})();
