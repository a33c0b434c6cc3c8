/* The reckoners of a page: the same functions, on the same facts and words, as macros/amounts/reckoning/ in the program.
   Their arithmetic goes in the same order, so that both give the same answer to the last character. */
(function () {
"use strict";

/* ---- numbers: steps are counted exactly, on the decimal digits a person would type (calculations/rounding.py) ---- */

/* A number as digits and a power of ten: 0.25 is [25n, 2]. */
function digits(value) {
  var parts = String(value).split("e"), point = parts[0].split(".");
  var places = (point[1] || "").length - Number(parts[1] || 0), whole = BigInt(point[0] + (point[1] || ""));
  while (places < 0) { whole *= 10n; places += 1; }
  while (places > 0 && whole % 10n === 0n) { whole /= 10n; places -= 1; }
  return [whole, places];
}
function floor(n, d) { var q = n / d; return n % d !== 0n && n < 0n ? q - 1n : q; }
function size(n) { return n < 0n ? -n : n; }
function halfEven(n, d) {
  var low = floor(n, d), twice = 2n * (n - low * d);
  return twice > d || (twice === d && low % 2n !== 0n) ? low + 1n : low;
}
/* Within a thousand-millionth of a whole step, or of half a step, a value stands on it. */
function wholeSteps(value, step, direction) {
  var v = digits(value), s = digits(step);
  var n = v[0] * 10n ** BigInt(s[1]), d = s[0] * 10n ** BigInt(v[1]);
  var whole = halfEven(n, d), low = floor(n, d), most = size(whole) > 1n ? size(whole) : 1n;
  if (size(n - whole * d) * 1000000000n <= d * most) return whole;
  var odd = 2n * low + 1n;
  if (size(2n * n - odd * d) * 1000000000n <= d * (size(odd) > 2n ? size(odd) : 2n)) { n = odd * d; d = 2n * d; }
  if (direction === "up") return -floor(-n, d);
  return direction === "down" ? floor(n, d) : halfEven(n, d);
}
function times(count, step) { var s = digits(step); return Number(String(count * s[0]) + "e-" + s[1]); }
function roundTo(value, step, direction) { return times(wholeSteps(value, step, direction), step); }
function onStep(value, step) { return roundTo(value, step, "nearest"); }
function fixed(value, step, direction) {
  var s = digits(step), n = wholeSteps(value, step, direction) * s[0], text = String(size(n)).padStart(s[1] + 1, "0");
  if (s[1] > 0) text = text.slice(0, -s[1]) + "." + text.slice(-s[1]);
  return (n < 0n ? "-" : "") + text;
}
function trimmed(value, step, direction) {
  var text = fixed(value, step, direction);
  return text.indexOf(".") < 0 ? text : text.replace(/0+$/, "").replace(/\.$/, "");
}

/* The step's decimals where they say the number whole, more where it has more (printing.text_as_set). */
function asSet(value, step) {
  var text = fixed(value, Number("1e-" + digits(step)[1]), "nearest");
  return Math.abs(Number(text) - value) <= 1e-9 * Math.max(1, Math.abs(value)) ? text : String(Number(value.toPrecision(8)));
}

/* ---- words ---- */

var words = {};
function say(name, values) {
  var at = name.indexOf("."), text = words[name.slice(0, at)][name.slice(at + 1)];
  return text.replace(/\{(\w+)\}/g, function (_, key) {
    if (!values || values[key] === undefined) throw new Error(name + " lacks " + key);
    return String(values[key]);
  });
}
function join() { return Object.assign.apply(null, [{}].concat([].slice.call(arguments))); }
function answer(kind, title, lines, groups, assumed, values) {
  return { kind: kind, title: title, lines: lines || [], groups: groups || [], assumed: assumed || [], values: values || {} };
}
function refused(text) { return answer("refused", text); }
function Unread(text) { this.answer = refused(text); }

/* ---- what was typed (reckoning/reading.py) ---- */

function shown(text) { var all = Array.from(text); return all.length <= 20 ? text : all.slice(0, 20).join("") + "..."; }
function plain(typed, what, how) {
  var text = typed.replace(/^[ \t\r\n\u00a0]+|[ \t\r\n\u00a0]+$/g, "");
  if (!text) throw new Unread(say("reading.empty", { what: what, how: how }));
  return text;
}
function readNumber(typed, what, how) {
  var text = plain(typed, what, how), told = { typed: shown(text), how: how };
  if (/^[0-9]{1,6}(\.[0-9]{1,4})?$/.test(text)) return [Number(text), text];
  if (/^[0-9]{1,6},[0-9]{1,4}$/.test(text)) {
    /* A keypad without a point has a comma; only where it may part thousands is it asked again. */
    var mended = text.replace(",", ".");
    if (!/^[1-9][0-9]{0,2},[0-9]{3}$/.test(text)) return [Number(mended), mended];
    throw new Unread(say("reading.two_ways", { typed: told.typed, mended: mended, whole: text.replace(",", "") }));
  }
  if (/^[-\u2212][0-9.]/.test(text)) throw new Unread(say("reading.below_zero", told));
  if (/^[0-9]+(\.[0-9]+)?$/.test(text)) throw new Unread(say("reading.too_long", told));
  throw new Unread(say("reading.no_number", told));
}
function readCount(typed, what) {
  var how = say("reading.count"), text = plain(typed, what, how);
  if (/^[0-9]{1,2}$/.test(text) && Number(text) <= 20) return Number(text);
  throw new Unread(say("reading.no_count", { typed: shown(text), how: how }));
}
function readClock(typed, what) {
  var how = say("reading.clock"), text = plain(typed, what, how);
  var found = /^([0-9]{1,2})[:.,]?([0-9]{2})$/.exec(text);
  if (found) {
    var hour = Number(found[1]), minute = Number(found[2]);
    if (hour <= 23 && minute <= 59) return hour * 60 + minute;
  }
  var told = { typed: shown(text), how: how };
  throw new Unread(say(/[AaPp]\.?[Mm]/.test(text) ? "reading.clock_half_day" : "reading.no_clock", told));
}
function readChoice(typed, choices, what) {
  if (choices.indexOf(typed) >= 0) return typed;
  throw new Unread(say("reading.no_choice", { what: what }));
}
function span(low, high, unit) { return say("reading.range", { low: low, high: high, unit: unit }).replace(/ +$/, ""); }

/* ---- pours of the house's tools (calculations/pours.py) ---- */

var MOST_POURS = 60;
function fineEnough(tool, amount, limit) { return tool.mark / 2 <= limit * amount * (1 + 1e-9); }
function filled(tool, count) { return new Array(count).fill({ tool: tool.name, volume: tool.capacity }); }
function alone(amount, tool, direction) {
  var steps = Number(wholeSteps(amount, tool.mark, direction));
  var perFull = Number(wholeSteps(tool.capacity, tool.mark, "down"));
  var least = Number(wholeSteps(tool.smallest_use, tool.mark, "up"));
  if (steps < Math.max(least, 1)) return null;
  var full = Math.floor(steps / perFull), rest = steps % perFull, sizes = new Array(full).fill(perFull);
  if (rest) sizes.push(rest);
  if (rest && rest < least) {
    if (full === 0) return null;
    var both = perFull + rest, half = Math.floor(both / 2);
    sizes.splice(-2, 2, both - half, half);
    if (half < least) return null;
  }
  if (sizes.length > MOST_POURS) return null;
  return sizes.map(function (count) { return { tool: tool.name, volume: onStep(count * tool.mark, tool.mark) }; });
}
function plansOf(amount, tool, tools, direction, limit) {
  var found = [];
  if (!fineEnough(tool, amount, limit)) return found;
  var single = alone(amount, tool, direction);
  if (single) found.push(single);
  var full = Math.floor(amount / tool.capacity * (1 + 1e-12)), rest = amount - full * tool.capacity;
  if (full > 0 && full < MOST_POURS && rest > 0) tools.forEach(function (other) {
    if (!(other.mark < tool.mark && fineEnough(other, amount, limit))) return;
    var small = onStep(Number(wholeSteps(rest, other.mark, direction)) * other.mark, other.mark);
    if (other.smallest_use - 1e-9 <= small && small <= other.capacity + 1e-9)
      found.push(filled(tool, full).concat([{ tool: other.name, volume: small }]));
  });
  return found;
}
function before(a, b) { for (var i = 0; i < a.length; i++) if (a[i] !== b[i]) return a[i] < b[i]; return false; }
function planPours(amount, tools, direction, limit) {
  var best = null;
  tools.forEach(function (tool, order) {
    plansOf(amount, tool, tools, direction, limit).forEach(function (pours) {
      var sum = 0;
      pours.forEach(function (pour) { sum += pour.volume; });
      var total = Number(sum.toPrecision(10));
      var rank = [pours.length, Number(Math.abs(total - amount).toFixed(9)), tool.mark, order];
      if (!best || before(rank, best.rank)) best = { rank: rank, pours: pours, total: total };
    });
  });
  return best;
}
/* Without the dust of a change of unit. */
function neat(value) { return Number(value.toPrecision(10)); }
function sumText(volumes, mark) {
  var text = [];
  volumes.filter(function (v, i) { return volumes.indexOf(v) === i; }).forEach(function (volume) {
    var count = volumes.filter(function (v) { return v === volume; }).length, told = asSet(volume, mark);
    if (count > 2) text.push(count + " x " + told); else for (var i = 0; i < count; i++) text.push(told);
  });
  return text.join(" + ");
}
function measured(data, group, millilitres, direction) {
  var bench = data.tools[group], plan = planPours(millilitres * bench.per_mL, bench.tools, direction, bench.limit);
  if (!plan) return null;
  var marks = {}, tools = {}, names = [], pieces = {};
  bench.tools.forEach(function (tool) { marks[tool.name] = tool.mark; tools[tool.name] = tool; });
  plan.pours.forEach(function (pour) {
    if (!pieces[pour.tool]) { pieces[pour.tool] = []; names.push(pour.tool); }
    pieces[pour.tool].push(pour.volume);
  });
  var used = plan.pours.map(function (pour) { return marks[pour.tool]; });
  var amount = asSet(plan.total, Math.min.apply(null, used)) + " " + bench.shown;
  var alone = plan.pours.length === 1;
  var how = names.map(function (name) {
    var tool = tools[name], own = tool.own === bench.shown ? "" : " " + tool.own;
    if (alone && !own) return name;
    var volumes = pieces[name].map(function (volume) { return neat(volume * tool.per_own); });
    return name + ": " + sumText(volumes, neat(marks[name] * tool.per_own)) + own;
  }).join("; ");
  return { text: amount + ", " + how, amount: amount, total: plan.total, marks: used, tools: how };
}

/* ---- the tank's inside (calculations/volumes.py) ---- */

function area(s, share) {
  return (s.length_bottom + (s.length_top - s.length_bottom) * share) * (s.width_bottom + (s.width_top - s.width_bottom) * share);
}
function cubicMetres(s, h) {
  if (s.kind === "Box") return s.length * s.width * h;
  if (s.kind === "Cylinder") return Math.PI / 4 * (s.diameter * s.diameter) * h;
  if (s.kind === "HorizontalCylinder") {
    var r = s.diameter / 2, cosine = Math.max(-1, Math.min(1, (r - h) / r));
    return (r * r * Math.acos(cosine) - (r - h) * Math.sqrt(Math.max(0, 2 * r * h - h * h))) * s.length;
  }
  var share = h / s.height;
  if (s.kind === "ConeFrustum") {
    var d0 = s.diameter_bottom, at = d0 + (s.diameter_top - d0) * share;
    return Math.PI * h / 12 * (d0 * d0 + d0 * at + at * at);
  }
  return h / 6 * (area(s, 0) + 4 * area(s, share / 2) + area(s, share));
}
function litresAt(data, h) { return 1000 * cubicMetres(data.tank.shape, h); }
function heightFor(data, litres) {
  var low = 0, high = data.tank.rim;
  for (var i = 0; i < 100; i++) {
    var middle = (low + high) / 2;
    if (litresAt(data, middle) < litres) low = middle; else high = middle;
  }
  return (low + high) / 2;
}
function marksOf(data) {
  var t = data.tank;
  return { system: data.system, responsible: data.responsible, unit: t.level_shown, volume_unit: t.volume_shown,
    low: t.pump_minimum_text, high: t.fill_text, rim: t.rim_text, refill: t.refill_text };
}

/* ---- level and EC (reckoning/tank.py) ---- */

var DUST = 1e-9;
/* `dose` is in mL, of a dry part in g: its tools are the scales. */
function feedDose(data, part, dose, direction, key, values) {
  var found = dose > 0 ? measured(data, part.tools, dose, direction) : null;
  values[key] = found ? found.total : null;
  return found ? say("dose.item", { part: part.name, amount: found.text }) : say("dose.none", { part: part.name });
}
function level(data, typedLevel) {
  var t = data.tank, said = marksOf(data), read = readNumber(typedLevel, say("level.what"), span(said.low, said.high, said.unit));
  said.typed = read[1];
  var height = read[0] * t.metres_per_level;
  if (height > t.rim + DUST) return refused(say("level.over_rim", said));
  if (height > t.fill + DUST) return answer("stop", say("level.over_mark", said), [say("level.over_mark_do")]);
  if (height < t.pump_minimum - DUST) return answer("stop", say("level.under_pump", said), [say("level.under_pump_do", said)]);
  var present = litresAt(data, height), unit = t.per_litre, step = t.volume_step;
  var short = Math.max(0, roundTo((t.full - present) * unit, step, "down"));
  var values = { present: roundTo(present * unit, step, "nearest"), short: short };
  said.present = trimmed(present * unit, step, "nearest");
  said.full = trimmed(t.full * unit, step, "nearest");
  var lines = [say("level.holds", said)], title, groups = [];
  if (height > t.refill + DUST) lines.push(say("level.above_refill", said));
  if (t.draw !== null) lines.push(flood(data, present, said, values));
  if (height >= t.fill - DUST) title = say("level.full", said);
  else if (short === 0) title = say("level.nearly_full", join(said, { step: trimmed(step, step, "nearest") }));
  else title = say("level.add", join(said, { short: trimmed(short, step, "nearest") }));
  if (short > 0) groups = feed(data, short, said, lines, values);
  var assumed = [say("level.assume_home")];
  if (groups.length) assumed.push(say("level.assume_row"));
  assumed.push(say("level.assume_leak", said));
  return answer("answer", title, lines, groups, assumed, values);
}
function flood(data, present, said, values) {
  var t = data.tank, left = present - t.draw - t.dead;
  values.flood_left = roundTo(left * t.per_litre, 0.1, "down");
  if (left >= 0) return say("level.flood_fits", join(said, { draw: t.draw_text, left: trimmed(left * t.per_litre, 0.1, "down") }));
  var usable = trimmed((present - t.dead) * t.per_litre, 0.1, "down");
  return say("level.flood_short", join(said, { draw: t.draw_text, usable: usable }));
}
function feed(data, short, said, lines, values) {
  var f = data.feed;
  if (!f) return [];
  var row = Math.min(roundTo(short, f.row_step, "down"), f.last_row);
  values.row = row;
  if (row <= 0) {
    lines.push(say("level.no_row", join(said, { row: trimmed(f.row_step, f.row_step, "nearest") })));
    return [];
  }
  lines.push(say("level.plain", join(said, { ec_high: f.ec_high })));
  var litres = row * f.litres_per_row;
  return [["level.part_row", f.strength, "part"], ["level.full_row", 1, "full"]].map(function (way) {
    var items = f.parts.map(function (part) {
      return feedDose(data, part, litres * part.rate * way[1], "nearest", way[2] + ":" + part.id, values);
    });
    return { head: say(way[0], join(said, { ec_low: f.ec_low, ec_high: f.ec_high, row: trimmed(row, f.row_step, "nearest"),
      strength: trimmed(f.strength, 0.0001, "nearest") })), items: items };
  });
}
function ec(data, typedEc, typedLevel) {
  var rules = data.ec, t = data.tank, said = join(marksOf(data), { ec_low: rules.low_text, ec_high: rules.high_text });
  var read = readNumber(typedEc, say("ec.what"), span(rules.least_text, rules.most_text, "mS/cm"));
  var at = readNumber(typedLevel, say("level.what"), span(said.low, said.high, said.unit));
  var height = at[0] * t.metres_per_level;
  if (!(t.pump_minimum - DUST <= height && height <= t.fill + DUST)) return refused(say("ec.level_out", join(said, { typed: at[1] })));
  said.typed = read[1];
  var stop = read[0] < rules.least ? "ec.under_water" : read[0] > rules.most ? "ec.over_table" : "";
  if (stop) {
    var out = join(said, { low: rules.least_text, high: rules.most_text });
    return answer("stop", say(stop, out), [say("ec.stop_do", out)]);
  }
  var present = Math.min(litresAt(data, height), t.full);
  var assumed = [say("ec.assume_volume", join(said, { level: at[1], present: trimmed(present * t.per_litre, t.volume_step, "nearest") })),
    say("ec.assume_pen")];
  return (read[0] <= rules.target ? raise : lower)(data, read[0], present, said, assumed);
}
function raise(data, read, present, said, assumed) {
  var rules = data.ec, values = {};
  var share = (rules.target - read) / rules.full_feed;
  var items = rules.parts.map(function (part) {
    return feedDose(data, part, present * part.rate * share, "down", "part:" + part.id, values);
  });
  var inBand = read >= rules.low, title = say(inBand ? "ec.in_band" : "ec.raise", said);
  if (read === rules.target) return answer("answer", title, [], [], assumed);
  var head = say(inBand ? "ec.if_asked_raise" : "ec.pour", join(said, { target: rules.target_text }));
  return answer("answer", title, inBand ? [] : [say("ec.read_again")], [{ head: head, items: items }], assumed, values);
}
function lower(data, read, present, said, assumed) {
  var rules = data.ec, t = data.tank, inBand = read <= rules.high;
  if (!rules.lower) return inBand ? answer("answer", say("ec.in_band", said), [], [], assumed)
    : answer("stop", say("ec.no_lower", said), [], [], assumed);
  var unit = t.per_litre, step = rules.water_step;
  var water = roundTo(present * (read - rules.target) / (rules.target - rules.water_ec) * unit, step, "up");
  var swap = roundTo(present * (read - rules.target) / (read - rules.water_ec) * unit, step, "up");
  var room = Math.max(0, roundTo((t.full - present) * unit, step, "down"));
  var values = { water: water, swap: swap, room: room };
  var told = join(said, { water: trimmed(water, step, "nearest"), swap: trimmed(swap, step, "nearest"),
    room: trimmed(room, step, "nearest"), target: rules.target_text });
  if (inBand) return answer("answer", say("ec.in_band", told), [say("ec.if_asked_lower", told)], [], assumed, values);
  if (water <= room) return answer("answer", say("ec.dilute", told), [say("ec.dilute_room", told)], [], assumed, values);
  return answer("answer", say("ec.swap", told), [say("ec.swap_why", told), say("ec.swap_first", told)], [], assumed, values);
}

/* ---- pH (reckoning/ph.py) ---- */

function ph(data, typedPh, typedDoses) {
  var rules = data.ph, said = { system: data.system, responsible: data.responsible, ph_low: rules.low_text,
    ph_high: rules.high_text, most: rules.most_doses };
  var read = readNumber(typedPh, say("ph.what"), span(rules.least_text, rules.most_text, ""));
  var given = readCount(typedDoses, say("ph.doses_what"));
  said = join(said, { typed: read[1], doses: given, low: rules.least_text, high: rules.most_text });
  if (read[0] > 14) return refused(say("ph.no_such", said));
  if (!(rules.least <= read[0] && read[0] <= rules.most))
    return answer("stop", say("ph.out_of_reach", said), [say("ph.out_do", said)]);
  if (rules.low <= read[0] && read[0] <= rules.high) return answer("answer", say("ph.in_band", said), [], [], [pen(rules)]);
  if (given >= rules.most_doses) return answer("stop", say("ph.stop", said), [say("ph.stop_do", said)]);
  var full = say("ph.assume_full", { full_level: data.tank.fill_text, unit: data.tank.level_shown });
  if (read[0] < rules.low) {
    if (!rules.up) return answer("stop", say("ph.no_base", said));
    return phDose(data, "up", rules.up.first, said, [full, say("ph.assume_up")]);
  }
  var down = rules.down;
  if (!down) return answer("stop", say("ph.no_acid", said));
  var dose = Math.min(down.volume * down.slope * (read[0] - rules.target) / 2, down.first);
  return phDose(data, "down", dose, said, [full, say("ph.assume_half", { slope: down.slope_text, first: down.first_text })]);
}
function pen(rules) { return say("ph.assume_pen", { off: rules.pen_text }); }
function phDose(data, way, millilitres, said, assumed) {
  var rules = data.ph, found = measured(data, way === "up" ? "bases" : "acids", millilitres, "down"), values = {};
  assumed.push(pen(rules));
  values[way] = found ? found.total : null;
  if (!found) return answer("answer", say("ph.too_little", said), [], [], assumed, values);
  var told = join(said, { amount: found.amount, chemical: rules[way].chemical, number: said.doses + 1 });
  var lines = [say("ph.tool", { tools: found.tools }), say("ph.how", told), say("ph.count", told)];
  if (told.number >= rules.most_doses) lines.push(say("ph.none_left", told));
  return answer("answer", say("ph.dose", told), lines, [], assumed, values);
}

/* ---- a missed flood (reckoning/floods.py) ---- */

var DAY = 1440;
function two(n) { return (n < 10 ? "0" : "") + n; }
function clock(minutes) { return two(Math.floor(minutes / 60)) + ":" + two(minutes % 60); }
function spoken(minutes) {
  var hours = Math.floor(minutes / 60), rest = minutes % 60, pieces = hours ? [hours + " h"] : [];
  if (rest || !hours) pieces.push(rest + " min");
  return pieces.join(" ");
}
function when(minute, start, at) {
  var seen = at > start ? at : at + DAY, text = clock(minute % DAY);
  return Math.floor(minute / DAY) > Math.floor(seen / DAY) ? say("missed_flood.tomorrow", { clock: text }) : text;
}
function missedFlood(data, typedLast, typedNow) {
  var start = readClock(typedLast, say("missed_flood.last_what")), at = readClock(typedNow, say("missed_flood.now_what"));
  var gone = (at - start + DAY) % DAY, rows = [], values = {}, due = [], later = [];
  if (gone === 0) return refused(say("missed_flood.same"));
  data.missed_flood.crops.forEach(function (crop) {
    ["young", "grown"].forEach(function (age) {
      rows.push({ minutes: Math.round(crop[age] * 60), place: rows.length, crop: crop.name, size: age, hours: crop[age] });
    });
  });
  rows.sort(function (a, b) { return a.minutes - b.minutes || a.place - b.place; });
  var lines = [say("missed_flood.since", { gone: spoken(gone), last: clock(start) })];
  rows.forEach(function (row) {
    values["left:" + row.crop + ":" + row.size] = row.minutes - gone;
    var who = say("missed_flood." + row.size, { crop: row.crop }), half = Math.floor(row.minutes / 2);
    var state = gone >= row.minutes ? "gone" : gone >= half ? "half" : "good", by = when(start + half, start, at);
    lines.push(say("missed_flood." + state, { who: who, hours: trimmed(row.hours, 0.5, "down"), by: by,
      dry: when(start + row.minutes, start, at), left: spoken(Math.max(0, row.minutes - gone)) }));
    (state === "good" ? later : due).push([who, by]);
  });
  var assumed = ["assume_clock", "assume_light", "assume_half"].map(function (name) { return say("missed_flood." + name); });
  var title = due.length
    ? say("missed_flood.act_now", { system: data.system, who: due.map(function (one) { return one[0]; }).join("; ") })
    : say("missed_flood.act_by", { system: data.system, by: later[0][1], who: later[0][0] });
  return answer(due.length ? "stop" : "answer", title, lines, [], assumed, values);
}

/* ---- strips and batches (reckoning/cleaning.py) ---- */

var OVER = 1 + 1e-9;
function strip(data, typedTask, typedReading, typedFailed) {
  var chosen = readChoice(typedTask, Object.keys(data.strip), say("strip.task_what")), rule = data.strip[chosen];
  var read = readNumber(typedReading, say("strip.reading_what"), span("0", rule.top_text, "mg/L"));
  var failed = readCount(typedFailed, say("strip.failed_what"));
  var said = { system: data.system, responsible: data.responsible, typed: read[1], task: rule.label };
  if (read[0] > rule.top) return refused(say("strip.off_strip", join(said, { strip: rule.strip, top: rule.top_text })));
  if (chosen === "residue") return residue(rule, read[0], failed, said);
  var band = say("strip.band", join(said, { strip: rule.strip, dilution: rule.dilution, low: rule.low_text, high: rule.high_text }));
  var assumed = [say("strip.assume_dilution", { dilution: rule.dilution }), say("strip.assume_fresh")];
  var values = { low: rule.low, high: rule.high };
  if (rule.low <= read[0] && read[0] <= rule.high)
    return answer("answer", say("strip.passed", join(said, { life: rule.life })), [band], [], assumed, values);
  if (failed > 0) return answer("stop", say("strip.twice", said), [band, say("strip.ask", said)], [], assumed, values);
  var title = say(read[0] < rule.low ? "strip.weak" : "strip.strong", said);
  return answer("stop", title, [band, say("strip.never")], [], assumed, values);
}
function residue(rule, read, failed, said) {
  var told = join(said, { allowed: rule.allowed_text }), values = { allowed: rule.allowed };
  var assumed = [say("strip.assume_drops"), say("strip.assume_fresh")];
  if (read <= rule.allowed) return answer("answer", say("strip.rinsed", told), [], [], assumed, values);
  return answer("stop", say(failed > 0 ? "strip.rinse_twice" : "strip.rinse_again", told), [], [], assumed, values);
}
function percent(grams) { return trimmed(grams / 10, grams >= 1 ? 0.01 : 0.001, "up"); }
function made(millilitres, stock, litres) { return millilitres / 1000 * stock / litres; }
function batch(data, typedTask, typedWanted) {
  var rule = data.batch[readChoice(typedTask, Object.keys(data.batch), say("batch.task_what"))];
  var read = readNumber(typedWanted, say("batch.wanted_what"), span(rule.least_text, rule.most_text, rule.shown));
  var said = { system: data.system, responsible: data.responsible, typed: read[1], unit: rule.shown, task: rule.label,
    chemical: rule.chemical };
  var wanted = roundTo(read[0], rule.step, "up"), bench = data.tools.sanitizer;
  if (!(rule.least <= wanted && wanted <= rule.most))
    return refused(say("batch.out", join(said, { least: rule.least_text, most: rule.most_text, why: rule.why })));
  var litres = wanted * rule.litres_per_unit, exact = litres * rule.target / rule.now * 1000;
  var stock = measured(data, "sanitizer", exact, "up");
  if (!stock) return refused(say("batch.no_tool", join(said, { amount: trimmed(exact, 0.1, "nearest") })));
  var poured = stock.total * bench.to_mL;
  if (poured / 1000 > litres * OVER) return refused(say("batch.undiluted", said));
  var strength = made(poured, rule.fresh, litres), off = 0;
  if (strength > rule.ceiling * OVER) return refused(say("batch.over", join(said, { made: percent(strength), ceiling: rule.ceiling_text })));
  stock.marks.forEach(function (mark) { off += mark * bench.to_mL / 2; });
  var least = Math.max(litres - rule.step * rule.litres_per_unit / 2, (poured + off) / 1000);
  var strongest = made(poured + off, rule.fresh, least);
  if (strongest > rule.ceiling * OVER)
    return refused(say("batch.loose", join(said, { made: percent(strongest), ceiling: rule.ceiling_text })));
  if (rule.shelf !== null && poured > rule.shelf * OVER)
    return refused(say("batch.shelf", join(said, { stock: stock.amount, shelf: trimmed(rule.shelf, 1, "down") })));
  return madeBatch(data, rule, wanted, litres, stock, poured, join(said, { read: read[0] }));
}
function madeBatch(data, rule, wanted, litres, stock, poured, said) {
  var strength = made(poured, rule.fresh, litres), there = litres;
  if (rule.loop) there = litresAt(data, markUnder(data, litres).mark / data.scale.per_metre);
  var first = there - poured / 1000;
  var water = waterFirst(data, rule, first);
  var told = join(said, { batch: trimmed(wanted, rule.step, "nearest") + " " + rule.shown, water: water.text, stock: stock.amount });
  var lines = [];
  if (wanted !== said.read) lines.push(say("batch.rounded", told));
  lines.push(say("batch.pour_water", join(told, { tool: water.tool })),
    say("batch.pour_stock", join(told, { tool: stock.tools })),
    say("batch.make_up", join(told, { tool: batchTool(data, rule, litres) })),
    say("batch.made", { made: percent(strength), target: rule.target_text, ceiling: rule.ceiling_text }));
  var assumed = [say("batch.assume_stock", { now: rule.now_text }), say("batch.assume_page")];
  return answer("answer", say("batch.make", told), lines, [], assumed, { batch: wanted, stock: stock.total, water: water.amount,
    made: roundTo(strength / 10, strength >= 1 ? 0.01 : 0.001, "up") });
}
var NO_TOOL = "marked bucket";
function waterFirst(data, rule, litres) {
  var name = rule.loop ? "loop" : rule.small_unit || litres < 2 ? "small" : "large", size = data.water[name], amount, tool;
  if (rule.loop) {
    var read = markUnder(data, litres);
    amount = roundTo(litresAt(data, read.mark / data.scale.per_metre) * size.per_litre, size.step, "down");
    tool = read.text;
  } else {
    amount = roundTo(litres * size.per_litre, size.step, "down");
    var found = measured(data, "water_" + name, amount / size.per_litre * 1000, "down");
    tool = found ? found.tools : NO_TOOL;
    amount = found ? found.total : amount;
  }
  return { amount: amount, text: trimmed(amount, size.step, "nearest") + " " + size.shown, tool: tool };
}
function batchTool(data, rule, litres) {
  if (rule.loop) return markUnder(data, litres).text;
  var name = rule.small_unit ? "small" : "large", own = measured(data, "sanitizer_" + name, litres * 1000, "up");
  if (data.tools["sanitizer_" + name].shown === rule.shown && own && own.marks.length <= data.water.most_pours) return own.tools;
  var found = measured(data, "water_" + name, litres * 1000, "up");
  return found ? found.tools : NO_TOOL;
}
function markUnder(data, litres) {
  var scale = data.scale, level = heightFor(data, litres) * scale.per_metre;
  return { mark: roundTo(level, scale.step, "down"),
    text: scale.name + " at " + fixed(level, scale.step, "down") + " " + scale.shown };
}

/* ---- an order (reckoning/order.py); days are counted from 1970 ---- */

var MOST_DAYS = 400;
function dayNumber(text) { return Math.round(Date.parse(text + "T00:00:00Z") / 86400000); }
function dayText(number) { return new Date(number * 86400000).toISOString().slice(0, 10); }
function readDay(typed, what) {
  var how = say("reading.day"), text = plain(typed, what, how);
  if (/^20[0-9]{2}-[0-9]{2}-[0-9]{2}$/.test(text)) {
    var number = dayNumber(text);
    if (!isNaN(number) && dayText(number) === text) return number;
  }
  throw new Unread(say("reading.no_day", { typed: shown(text), how: how }));
}
/* Monday is 0; the first of January 1970 was a Thursday. */
function weekdayOf(number) { return (number + 3) % 7; }
function order(data, typedCrop, typedWanted, typedDay) {
  var all = data.order, rule = all.crops[readChoice(typedCrop, Object.keys(all.crops), say("order.crop_what"))];
  var how = say("order.amount", { unit: rule.unit }), read = readNumber(typedWanted, say("order.wanted_what"), how);
  var day = readDay(typedDay, say("order.day_what")), today = dayNumber(all.today);
  var said = { system: data.system, crop: rule.name, unit: rule.unit, typed: read[1], day: dayText(day), today: all.today, how: how };
  if (read[0] <= 0) return refused(say("order.nothing", said));
  if (day < today) return refused(say("order.past", said));
  if (day - today > MOST_DAYS) return refused(say("order.far", join(said, { most: MOST_DAYS })));
  var plants = Math.ceil(read[0] / (rule.each_week * rule.days / 7 * all.promised) - 1e-9);
  said.plants = plants;
  if (plants > rule.plugs.length) return refused(say("order.too_many", join(said, { room: rule.plugs.length })));
  var needs = rule.first + rule.picks - 1, latest = day - needs;
  var sow = latest - (weekdayOf(latest) - all.weekday_number + 7) % 7, odd = day - sow > rule.last;
  if (odd) sow = latest;
  said.sow = dayText(sow);
  var values = { plants: plants, given: planned(all, rule, day) };
  var given = say("order.given", join(said, { given: values.given }));
  var assumed = [say("order.assume_yield"), say("order.assume_plan", said)];
  if (values.given >= read[0]) return answer("answer", say("order.planned", said), [given], [], assumed, values);
  if (sow < today) {
    var next = today + (all.weekday_number - weekdayOf(today) + 7) % 7;
    var told = join(said, { next: dayText(next), earliest: dayText(next + needs) });
    return answer("stop", say("order.late", told), [say("order.late_next", told), given], [], assumed, values);
  }
  var lines = [say("order.plants", join(said, { each: trimmed(rule.each_week, 0.1, "nearest"), days: rule.days,
    share: trimmed(all.promised, 0.01, "nearest") }))];
  if (odd) lines.push(say("order.off_weekday", { weekday: all.weekday }));
  var fits = orderRoom(all, rule, sow, said, lines, values);
  lines.push(given);
  return answer(fits ? "answer" : "stop", say(fits ? "order.sow" : "order.no_room", said), lines, [], assumed, values);
}
function planned(all, rule, day) {
  var first = Math.max(day - rule.days + 1, dayNumber(rule.from)), last = Math.min(day, dayNumber(rule.to));
  return roundTo(rule.planned * rule.each_week / 7 * all.promised * Math.max(0, last - first + 1), 1, "down");
}
function orderRoom(all, rule, sow, said, lines, values) {
  var plugs = rule.plugs[said.plants - 1], opens = sow + rule.youngest, off = sow + rule.dome;
  var free = opens >= dayNumber(all.rack_free_from) ? rule.whole : opens > dayNumber(rule.to) ? rule.freed : rule.free;
  var sheets = all.per_sheet === null ? null : Math.ceil(plugs / all.per_sheet);
  var told = join(said, { plugs: plugs, seeds: plugs * rule.seeds, opens: dayText(opens), closes: dayText(sow + rule.oldest),
    free: free, sheets: sheets, size: all.per_sheet, dome_off: dayText(off), trays: all.trays });
  values.plugs = plugs;
  values.free = free;
  lines.push(say("order.plugs", told));
  if (sheets !== null) lines.push(say("order.sheets", told));
  lines.push(say("order.window", told), say(free >= said.plants ? "order.places" : "order.few_places", told));
  if (sheets === null || all.trays === null) {
    lines.push(say("order.trays_unknown"));
    return free >= said.plants;
  }
  var full = sheets > all.trays ? [off, 0] : null;
  all.tray_use.forEach(function (use) {
    var from = Math.max(dayNumber(use[0]), off), to = Math.min(dayNumber(use[1]), opens - 1);
    if (full === null && from <= to && use[2] + sheets > all.trays) full = [from, use[2]];
  });
  lines.push(full === null ? say("order.trays_free", told)
    : say("order.trays_full", join(told, { full: dayText(full[0]), used: full[1] })));
  return free >= said.plants && full === null;
}

/* ---- the table tests call, and the page ---- */

function told(reckon) {
  return function () {
    try { return reckon.apply(null, arguments); } catch (mistake) {
      if (mistake instanceof Unread) return mistake.answer;
      throw mistake;
    }
  };
}
var table = { level: told(level), ec: told(ec), ph: told(ph), missed_flood: told(missedFlood), strip: told(strip), batch: told(batch),
  order: told(order) };
window.reckoners = table;

function element(name, text, kind) {
  var made = document.createElement(name);
  if (text) made.textContent = text.replace(/([0-9]) (?=(?:mL|L|fl oz|gal|cm|in|mS|mg|h|min|%)(?![a-z]))/g, "$1\u00a0");
  if (kind) made.className = kind;
  return made;
}
function list(items, kind) {
  var made = element("ul", "", kind);
  items.forEach(function (item) { made.appendChild(element("li", item)); });
  return made;
}
function show(place, found) {
  var heads = { answer: "", stop: "STOP", refused: "NOT RECKONED" }, title = element("p", "", "reckon-title");
  place.textContent = "";
  place.className = "reckon-answer reckon-answer--" + found.kind;
  if (heads[found.kind]) { title.appendChild(element("b", heads[found.kind], "reckon-word")); title.appendChild(document.createTextNode(" ")); }
  title.appendChild(element("span", found.title));
  place.appendChild(title);
  if (found.lines.length) place.appendChild(list(found.lines, "sop-plain"));
  found.groups.forEach(function (group) {
    place.appendChild(element("p", group.head, "reckon-head"));
    place.appendChild(list(group.items, "sop-plain reckon-doses"));
  });
  if (found.assumed.length) {
    place.appendChild(element("p", "Taken for granted", "reckon-head"));
    place.appendChild(list(found.assumed, "sop-plain reckon-assumed"));
  }
}
/* Above the bar of emergencies, its first line first where it is higher than the screen; the keypad goes. */
function bringIntoView(place) {
  if (window.matchMedia("(pointer: coarse)").matches && document.activeElement) document.activeElement.blur();
  place.scrollIntoView({ block: place.offsetHeight > window.innerHeight / 2 ? "start" : "nearest" });
}
function init() {
  var box = document.getElementById("reckoner-facts");
  if (!box || box.dataset.ready) return;
  box.dataset.ready = "1";
  var facts = JSON.parse(box.textContent);
  words = facts.words;
  document.querySelectorAll("form[data-reckoner]").forEach(function (form) {
    var place = form.parentNode.querySelector("[role=status]"), fields = [].slice.call(form.querySelectorAll("input, select"));
    form.hidden = false;
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var typed = fields.map(function (field) { return field.value; });
      show(place, table[form.dataset.reckoner].apply(null, [facts.data].concat(typed)));
      bringIntoView(place);
    });
    /* An answer never stands beside other readings than its own. */
    form.addEventListener("input", function () { place.textContent = ""; place.className = "reckon-answer"; });
  });
  document.querySelectorAll(".reckon-without").forEach(function (note) { note.hidden = true; });
  document.querySelectorAll("details.reckon-tables").forEach(function (tables) { tables.open = false; });
}
if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init); else init();
if (window.document$ && window.document$.subscribe) window.document$.subscribe(init);
})();
