/* A self-check: an answer is asked for first; only then the right one shows. Nothing leaves the device. */
(function () {
"use strict";
var DUST = 1e-9;

function store() { try { var s = window.localStorage; s.setItem("_t", "1"); s.removeItem("_t"); return s; } catch (e) { return null; } }
function line(box, text, name) {
  if (!text) return;
  var p = document.createElement("p");
  p.textContent = text;
  if (name) p.className = name;
  box.appendChild(p);
}
/* An element with its attributes and what is inside: texts stay texts. */
function make(name, attributes, inside) {
  var e = document.createElement(name);
  Object.keys(attributes || {}).forEach(function (key) { e.setAttribute(key, attributes[key]); });
  (inside || []).forEach(function (one) { if (one) e.appendChild(typeof one === "string" ? document.createTextNode(one) : one); });
  return e;
}
function fieldsOf(q) {
  if (q.kind === "number") return [make("label", { class: "quiz-number" }, [
    make("span", { class: "quiz-label" }, [q.unit ? "Number in " + q.unit : "Number"]),
    make("input", { type: "text", inputmode: "decimal", name: "a", maxlength: "16" })])];
  if (q.kind === "words") return [make("label", { class: "quiz-words" }, [
    make("span", { class: "quiz-label" }, ["In your own words"]), make("textarea", { name: "a", rows: "2", maxlength: "600" })])];
  if (q.kind === "order") return q.mixed.map(function (item) {
    var select = make("select", { name: "a", "data-item": item }, [make("option", { value: "" }, ["place"])]);
    q.items.forEach(function (_, at) { select.appendChild(make("option", {}, [String(at + 1)])); });
    return make("label", { class: "quiz-order" }, [select, make("span", {}, [item])]);
  });
  return q.choices.map(function (text) {
    return make("label", { class: "quiz-pick" }, [make("input", { type: "radio", name: "a", value: text }), make("span", {}, [text])]);
  });
}
function formOf(q) {
  var legend = make("legend", {}, [q.scope ? make("b", { class: "quiz-scope" }, [q.scope]) : "", (q.scope ? " " : "") + q.text]);
  var look = make("p", { class: "quiz-look", hidden: "" }, ["Look: ", make("a", { href: q.page }, [q.step])]);
  if (q.working) { look.appendChild(document.createTextNode(" · ")); look.appendChild(make("a", { href: q.working }, ["how it is worked out"])); }
  return make("form", { class: "quiz", id: q.at, "data-q": q.id, novalidate: "", autocomplete: "off" }, [
    make("fieldset", {}, [legend].concat(fieldsOf(q))),
    make("button", { type: "submit", class: "md-button md-button--primary" }, ["Answer"]),
    make("div", { class: "quiz-answer", role: "status", "aria-live": "polite" }), look]);
}
function told(wrong, same) {
  for (var i = 0; i < wrong.length; i++) if (same(wrong[i])) return wrong[i][1];
  return "";
}

/* What was typed: {ask} when it is no answer yet, {right, means} when it can be judged, {} when the person judges. */
function judge(form, q) {
  var fields = [].slice.call(form.querySelectorAll("[name=a]")), wrong = q.wrong || [];
  if (q.kind === "number") {
    var text = fields[0].value.trim();
    if (/^[1-9]\d{0,2},\d{3}$/.test(text)) return { ask: text + " can be read in two ways. Type " + text.replace(",", ".") + ", or " + text.replace(",", "") + "." };
    text = text.replace(",", ".");
    if (!/^\d+(\.\d+)?$/.test(text)) return { ask: "Type a number alone, as 7.5." };
    var number = Number(text);
    if (Math.abs(number - q.value) <= (q.within || 0) + DUST) return { right: true };
    return { right: false, means: told(wrong, function (w) { return Math.abs(number - w[2]) <= (q.within || 0) + DUST; }) };
  }
  if (q.kind === "order") {
    var places = fields.map(function (f) { return f.value; });
    var once = places.every(function (p, at) { return p && places.indexOf(p) === at; });
    if (!once) return { ask: "Give each line a place of its own." };
    return { right: fields.every(function (f) { return q.items[Number(f.value) - 1] === f.dataset.item; }) };
  }
  if (q.kind === "words") return fields[0].value.trim() ? {} : { ask: "Write your answer first, then look." };
  var chosen = fields.filter(function (f) { return f.checked; })[0];
  if (!chosen) return { ask: "Choose one first, then look." };
  if (chosen.value === q.answer) return { right: true };
  return { right: false, means: told(wrong, function (w) { return w[0] === chosen.value; }) };
}

function show(form, q, found, keep) {
  var box = form.querySelector(".quiz-answer");
  box.textContent = "";
  box.className = "quiz-answer";
  if (found.ask) { line(box, found.ask, "quiz-ask"); return; }
  if (found.right !== undefined) {
    box.classList.add(found.right ? "quiz-answer--right" : "quiz-answer--wrong");
    line(box, found.right ? "Right." : "Not right.", "quiz-word");
    line(box, found.means);
  }
  line(box, "The answer: " + q.answer + (/[.!?]$/.test(q.answer) ? "" : "."), "quiz-right");
  if (q.tool) line(box, "With: " + q.tool + ".");
  if (q.tolerance) line(box, "Right within " + q.tolerance + ".");
  line(box, q.why);
  form.querySelector(".quiz-look").hidden = false;
  if (found.right !== undefined) { keep(found.right); return; }
  line(box, "Did yours say the same?", "quiz-word");
  [["Yes, all of it", true], ["Not all of it", false]].forEach(function (way) {
    var button = document.createElement("button");
    button.type = "button";
    button.className = "md-button";
    button.textContent = way[0];
    button.addEventListener("click", function () {
      [].forEach.call(box.querySelectorAll("button"), function (b) { b.setAttribute("aria-pressed", String(b === button)); });
      keep(way[1]);
    });
    box.appendChild(button);
  });
}

function init() {
  var bar = document.querySelector("[data-quiz]"), data = document.getElementById("quiz-data");
  if (!bar || !data || bar.dataset.ready) return;
  bar.dataset.ready = "1";
  var s = store(), key = "check:" + bar.dataset.quiz, done = {}, questions = {};
  JSON.parse(data.textContent).forEach(function (group, at) {
    var box = document.querySelector('[data-group="' + at + '"]');
    group.forEach(function (q) { questions[q.id] = q; box.appendChild(formOf(q)); });
  });
  if (s) try { done = JSON.parse(s.getItem(key)) || {}; } catch (e) { done = {}; }
  var forms = [].slice.call(document.querySelectorAll("form.quiz"));
  function state() {
    var seen = forms.filter(function (f) { return done[f.dataset.q] !== undefined; });
    var right = seen.filter(function (f) { return done[f.dataset.q] === 1; }).length;
    bar.querySelector(".quiz-state").textContent = seen.length + " of " + forms.length + " answered, " + right + " right" + (s ? "" : " (not kept on this device)");
    forms.forEach(function (f) { var at = done[f.dataset.q]; if (at === undefined) delete f.dataset.state; else f.dataset.state = at === 1 ? "right" : "wrong"; });
  }
  forms.forEach(function (form) {
    var q = questions[form.dataset.q];
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      show(form, q, judge(form, q), function (right) {
        done[form.dataset.q] = right ? 1 : 0;
        if (s) s.setItem(key, JSON.stringify(done));
        state();
      });
    });
  });
  bar.querySelector(".quiz-again").addEventListener("click", function () {
    done = {};
    if (s) s.removeItem(key);
    forms.forEach(function (f) { f.reset(); f.querySelector(".quiz-answer").textContent = ""; f.querySelector(".quiz-answer").className = "quiz-answer"; f.querySelector(".quiz-look").hidden = true; });
    state();
  });
  [].forEach.call(document.querySelectorAll(".quiz-without"), function (note) { note.hidden = true; });
  bar.hidden = false;
  state();
  if (window.location.hash) { var there = document.getElementById(window.location.hash.slice(1)); if (there) there.scrollIntoView(); }
}
if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
