"use strict";
// The card's page at work: the clock from the real start, go or no-go from what is read, alarms, and what was tapped kept on the phone.
// Every figure comes from the values in the page. Minutes count from midnight of the day on which the work began.
(() => {
  const card = JSON.parse(document.getElementById("values").textContent);
  const SAME = 1e-9, DAY = 1440, MINUTE = 60000;
  const KEPT = "fritline bonding record", OWN = `${KEPT}|${card.record.code}|`, KEY = `${OWN}${card.record.mark}`, LOOK = "fritline look";
  const BEGIN = "begin", READINGS = ["air", "humidity", "glass", "frame"];
  const when = (count) => card.when[count - 1];
  const fields = new Map(card.fields.map((each) => [each.id, each]));
  const byStep = new Map(card.steps.map((each) => [each.id, each]));
  const one = (selector) => document.querySelector(selector);
  const all = (selector) => Array.from(document.querySelectorAll(selector));
  const told = (element, words) => { if (element && element.textContent !== words) element.textContent = words; };
  const sign = (words) => words.replace(".", ",").replace("-", "−");
  const tenth = (value) => sign(value.toFixed(1));
  const plain = (value) => sign(String(Math.round(value * 1e9) / 1e9));

  // ---- the rules of the day, as geometry/rules/day has them ----

  function dewPoint(air, humidity) {
    const wet = Math.log(humidity / 100) + card.climate.water[0] * air / (card.climate.water[1] + air);
    const [a, b] = wet < 0 ? card.climate.ice : card.climate.water;
    return b * wet / (a - wet);
  }

  function openTime(air, humidity) {
    const sheet = card.open_time;
    const damp = Math.min(1, sheet.standard_humidity / humidity);
    if (air >= sheet.standard_air) return damp * sheet.at_standard * Math.pow(2, -(air - sheet.standard_air) / sheet.halving);
    if (sheet.cold === null || sheet.cold_air === null) return damp * sheet.at_standard;
    const colder = (sheet.standard_air - Math.max(air, sheet.cold_air)) / (sheet.standard_air - sheet.cold_air);
    return damp * sheet.at_standard * Math.pow(sheet.cold / sheet.at_standard, colder);
  }

  // The reasons that speak against bonding in a climate; none: go.
  function against({ air, humidity, glass, frame }) {
    const { margin, most_humidity, coldest, warmest } = card.climate;
    const dew = dewPoint(air, humidity), found = [];
    if (humidity > most_humidity) found.push(`humidity ${plain(humidity)} %, at most ${plain(most_humidity)} %`);
    for (const [name, surface] of [["glass", glass], ["frame", frame]])
      if (surface < dew + margin - SAME)
        found.push(`${name} ${tenth(surface)} °C, at least ${tenth(dew + margin)} °C (dew point ${tenth(dew)} °C + ${plain(margin)} K)`);
    for (const [name, value] of [["air", air], ["glass", glass], ["frame", frame]])
      if (!(coldest <= value && value <= warmest)) found.push(`${name} ${tenth(value)} °C, ${plain(coldest)} to ${plain(warmest)} °C`);
    return found;
  }

  // ---- what is kept on the phone ----

  const empty = () => ({ ...card.record, start: null, taps: {}, past: [], entries: {}, own: {}, read: {}, heard: [] });
  let store = null, kept = empty(), saved = true;
  try {
    store = window.localStorage;
    store.setItem(`${KEY} try`, "1");
    store.removeItem(`${KEY} try`);
  } catch { store = null; }

  function load() {
    let text = null;
    try { text = store ? store.getItem(KEY) : window.name.startsWith(KEY) ? window.name.slice(KEY.length) : null; } catch { text = null; }
    try { if (text) kept = { ...empty(), ...JSON.parse(text) }; } catch { kept = empty(); }
  }

  function keep() {
    const text = JSON.stringify(kept);
    saved = false;
    try {
      if (store) store.setItem(KEY, text); else window.name = KEY + text;
    } catch { store = null; window.name = KEY + text; }
  }

  function others() {
    const found = [];
    try {
      for (let number = 0; store && number < store.length; number += 1) {
        const key = store.key(number);
        if (key.startsWith(OWN) && key !== KEY) found.push(key);
      }
    } catch { /* nothing is kept */ }
    return found.sort();
  }

  // ---- times ----

  const two = (number) => String(number).padStart(2, "0");
  const stamp = (date) => `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}`;
  const ofDay = (text) => { const date = new Date(text); return date.getHours() * 60 + date.getMinutes() + date.getSeconds() / 60; };
  const begins = () => (kept.start ? ofDay(kept.start) : card.begins);
  const minutesAt = (text) => (Date.parse(text) - Date.parse(kept.start)) / MINUTE + begins();
  const up = (minutes) => Math.ceil(minutes - SAME), down = (minutes) => Math.floor(minutes + SAME);

  // A time of day; what is planned is rounded up to the minute, a limit down.
  function clock(minutes, limit = false) {
    if (minutes === null) return card.no_time;
    const whole = limit ? down(minutes) : up(minutes), day = Math.floor(whole / DAY), rest = whole - day * DAY;
    return `${two(Math.floor(rest / 60))}:${two(rest % 60)}${day ? ` ${day > 0 ? "+" : "−"}${Math.abs(day)}` : ""}`;
  }

  // ---- what was read ----

  function number(id) {
    const text = (kept.entries[id] || "").trim().replace(",", ".").replace("−", "-");
    if (text === "") return null;
    const value = /^[+-]?\d+(\.\d+)?$/.test(text) ? Number(text) : NaN;
    const world = fields.get(id).world;
    return world && !(world[0] <= value && value <= world[1]) ? NaN : value;
  }

  // Read today, or since the work began and within a day of it.
  function ofToday(read) {
    const now = new Date(), since = kept.start ? now - Date.parse(kept.start) : Infinity;
    return read.slice(0, 10) === stamp(now).slice(0, 10) || (read !== "" && read >= (kept.start || "~") && since < DAY * MINUTE);
  }

  function reading(count) {
    const values = {}, missing = [];
    let begun = false;
    for (const name of READINGS) {
      const value = number(`climate.${count}.${name}`);
      if (value !== null) begun = true;
      if (value === null || Number.isNaN(value)) missing.push(name); else values[name] = value;
    }
    const fresh = ofToday(kept.read[count] || "");
    const known = "air" in values && "humidity" in values;
    return {
      count, begun, missing, fresh, values, complete: missing.length === 0,
      dew: known ? dewPoint(values.air, values.humidity) : null,
      reasons: missing.length ? [] : against(values),
      limit: known ? card.open_time.share * openTime(values.air, values.humidity) : null,
    };
  }

  // ---- the clock ----

  function tap(id) { return kept.start && kept.taps[id] ? minutesAt(kept.taps[id]) : null; }

  // Every line of the clock: what was tapped, else as planned from the real start and never before what comes first is done.
  function plan() {
    const from = begins(), at = {}, ends = [];
    for (const chain of ["frame", "glass"]) {
      let ready = from;
      for (const step of card.steps.filter((each) => each.chain === chain)) {
        at[step.id] = tap(step.id) ?? Math.max(from + step.start, ready);
        ready = at[step.id] + step.length;
      }
      ends.push(ready);
    }
    const sets = [1, 2, 3].map(reading);
    const usable = sets.slice(0, 2).filter((each) => each.complete && each.fresh);
    let limit = usable.length ? usable[usable.length - 1].limit : card.limit;
    if (sets[2].complete && sets[2].fresh) limit = Math.min(limit, sets[2].limit);
    const late = card.elapsed > limit + SAME;
    const together = card.steps.filter((each) => each.chain === "both");
    const bead = together.find((each) => each.kind === "bead");
    let ready = Math.max(...ends);
    for (const step of together) {
      at[step.id] = tap(step.id) ?? (step.in_place ? ready : Math.max(from + step.start, ready));
      ready = at[step.id] + step.length;
      if (late && step.in_place && tap(step.id) === null) at[step.id] = null;
    }
    const first = at[bead.id], pressed = tap(card.last_press), abort = first + limit;
    const waits = card.waits.map((each, place) => {
      const longest = each.longest ?? ownMinutes(place);
      const end = longest === null ? null : at[each.after] + longest;
      return { ...each, place, longest, done: tap(each.until) !== null, end: end !== null && late && each.primed ? Math.min(end, abort) : end };
    });
    return {
      at, sets, limit, late, bead: first, begun: tap(bead.id) !== null, pressed, abort, waits, read: usable.length > 0,
      tooLong: late ? Math.max(1, up(card.elapsed - limit)) : 0,
      lastLift: late ? null : first + limit - card.in_place,
      lastPress: late ? null : ready,
    };
  }

  function ownMinutes(place) {
    const text = (kept.own[`wait.${place}`] || "").trim().replace(",", ".");
    return /^\d+(\.\d+)?$/.test(text) && Number(text) > 0 ? Number(text) : null;
  }

  // What stands at the top: nothing is a go until everything was read today.
  function verdict(day, past) {
    if (card.against.length) return { kind: "stop", head: card.do_not_fit, words: card.against.join("; ") };
    if (day.pressed !== null) {
      const past = day.pressed > day.abort + SAME;
      return past
        ? { kind: "stop", head: "PRESSED AFTER THE ABORT", words: `at ${clock(day.pressed, true)}, abort ${clock(day.abort, true)}: tell the office before anything else` }
        : { kind: "go", head: "PRESSED HOME", words: `at ${clock(day.pressed, true)}, before the abort ${clock(day.abort, true)}` };
    }
    if (past) return { kind: "stop", head: `PAST ABORT ${clock(day.abort, true)}: DO NOT PLACE`, words: one("#after-abort").dataset.words };
    const checked = tap("both_climate_check") !== null ? day.sets[1] : day.sets[0]; // what is due to be read
    const newest = [...day.sets].reverse().find((each) => each.begun && each.count >= checked.count) || checked;
    const by = day.read ? `open time ${tenth(day.limit / card.open_time.share)} min as read` : `open time ${tenth(day.limit / card.open_time.share)} min as planned`;
    const reasons = newest.complete ? newest.reasons : [];
    if (reasons.length) return { kind: "stop", head: "NO-GO: DO NOT BOND", words: reasons.join("; ") };
    if (day.late) return { kind: "stop", head: `PLAN ${day.tooLong} MIN TOO LONG: DO NOT START`, words: by };
    if (!newest.complete) return { kind: "wait", head: "NOT READ", words: `${newest.missing.join(", ")} still to be read ${when(newest.count)}` };
    if (!newest.fresh) return { kind: "wait", head: "NOT READ TODAY", words: `what is noted was read on ${(kept.read[newest.count] || "a day not known").slice(0, 10)}: read again` };
    if (card.undecided) return { kind: "wait", head: "PANE NOT CHECKED: ASK THE OFFICE", words: `climate and clock go; checks: ${card.state}` };
    const time = kept.entries[`climate.${newest.count}.time`] || "";
    return { kind: "go", head: "GO by climate and clock", words: `read ${time} ${when(newest.count)}; ${by}${card.passes ? "" : `; ${card.state}`}` };
  }

  // ---- alarms ----

  const FACE = { frame: "LANDING", glass: "GLASS" };
  function calls(day) {
    const found = [];
    const add = (id, limit, soon, due) => { if (limit !== null) found.push({ id, due: limit, ahead: limit - card.ahead, soon, words: due }); };
    if (!kept.start || day.pressed !== null) return found;
    for (const each of day.waits) {
      if (each.done || each.end === null) continue; // a step that was not tapped counts as planned
      const face = FACE[each.face];
      add(`wait${each.place}`, down(each.end),
        each.primed ? `${face}: bonded by ${clock(each.end, true)}` : `${face}: primed by ${clock(each.end, true)}`,
        each.primed ? `${face} WAITED TOO LONG: activate again` : `${face} WAITED TOO LONG: wipe again`);
    }
    if (day.lastLift !== null && tap("both_lift") === null) add("lift", down(day.lastLift), `last lift at ${clock(day.lastLift, true)}`, "TOO LATE TO LIFT: it is not pressed home before the ABORT");
    if (day.lastPress !== null) found.push({ id: "press", due: up(day.lastPress), ahead: null, soon: "", words: "LAST PRESS: it should be home now" });
    add("abort", down(day.abort), `ABORT at ${clock(day.abort, true)}`, "ABORT: DO NOT PLACE");
    return found;
  }

  let sound = null, lastBeep = 0;
  function wake() {
    try {
      sound = sound || new (window.AudioContext || window.webkitAudioContext)();
      if (sound.state === "suspended") sound.resume();
    } catch { sound = null; }
    try {
      if (navigator.wakeLock && document.visibilityState === "visible") navigator.wakeLock.request("screen").catch(() => {});
    } catch { /* the phone may sleep: the page says so */ }
  }

  function beep(strong) {
    try {
      if (sound) {
        const tone = sound.createOscillator(), gain = sound.createGain();
        tone.type = "square";
        tone.frequency.value = strong ? 1760 : 880;
        gain.gain.value = strong ? 0.6 : 0.25;
        tone.connect(gain).connect(sound.destination);
        tone.start();
        tone.stop(sound.currentTime + (strong ? 0.6 : 0.2));
      }
    } catch { /* words and colour tell it too */ }
    try { if (navigator.vibrate) navigator.vibrate(strong ? [400, 150, 400] : [150]); } catch { /* as above */ }
  }

  function ring(day, now) {
    const standing = [];
    for (const each of calls(day)) {
      const phase = now >= each.due - SAME ? "due" : each.ahead !== null && now >= each.ahead - SAME ? "ahead" : null;
      if (phase) standing.push({ ...each, phase, key: `${each.id} ${phase} ${each.due}` });
    }
    const open = standing.filter((each) => !kept.heard.includes(each.key)).sort((a, b) => (a.id === "abort") - (b.id === "abort"));
    const worst = open.filter((each) => each.phase === "due").pop() || open.pop();
    const panel = one("#alarm");
    panel.hidden = !worst;
    if (!worst) { document.title = title; return; }
    panel.dataset.key = open.concat(worst).map((each) => each.key).join("|");
    panel.className = `alarm ${worst.phase} ${worst.id}`;
    const head = worst.phase === "due" ? worst.words : worst.soon;
    told(one("#alarm-head"), head);
    const left = Math.max(0, worst.due - now);
    told(one("#alarm-words"), worst.phase === "ahead" ? `in ${Math.floor(left)} min ${two(Math.floor((left % 1) * 60))} s` : worst.id === "abort" ? one("#after-abort").dataset.words : `since ${clock(worst.due, true)}`);
    document.title = `${worst.phase === "due" ? "!!! " : "! "}${head}`;
    one("#alarm-home").hidden = !(worst.id === "press" || (worst.id === "abort" && worst.phase === "ahead" && day.begun));
    const strong = worst.phase === "due";
    if (Date.now() - lastBeep >= (strong ? 900 : 3900)) { lastBeep = Date.now(); beep(strong); }
  }

  // ---- what is shown ----

  const title = document.title;
  const bounds = (field) => [field.least === null ? "" : `least ${plain(field.least)}`, field.most === null ? "" : `most ${plain(field.most)}`].filter(Boolean).join(", ");

  function noteOf(id) {
    const field = fields.get(id);
    if (field && field.kind === "date") {
      const text = (kept.entries[id] || "").trim();
      return text === "" || /^20\d\d-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?$/.test(text) ? "" : "not read: a date such as 2027-01-31, or 2027-01";
    }
    if (!field || field.kind !== "number") return "";
    const value = number(id);
    if (value === null) return "";
    if (Number.isNaN(value)) return `not read: a number${field.world ? ` from ${plain(field.world[0])} to ${plain(field.world[1])}` : ""}`;
    return (field.least !== null && value < field.least - SAME) || (field.most !== null && value > field.most + SAME) ? `OUT: ${bounds(field)}` : "";
  }

  function show() {
    const now = new Date(), day = plan(), at = kept.start ? minutesAt(stamp(now)) + now.getMilliseconds() / MINUTE : null;
    const past = at !== null && day.pressed === null && at >= down(day.abort) - SAME;
    const top = verdict(day, past), banner = one("#verdict");
    banner.className = `verdict ${top.kind}`;
    told(one("#verdict-head"), top.head);
    told(one("#verdict-words"), top.words);
    for (const set of day.sets) {
      told(one(`#dew-${set.count}`), set.dew === null ? "dew point: not read" : `dew point ${tenth(set.dew)} °C`);
      told(one(`#said-${set.count}`), set.complete ? (set.reasons.length ? `NO-GO: ${set.reasons.join("; ")}` : "go") : `not read: ${set.missing.join(", ")}`);
    }
    told(one("#began-words"), kept.start ? `work began ${kept.start.slice(11, 16)}` : "WORK BEGINS: tap now");
    one("#began").value = kept.start ? kept.start.slice(11, 16) : "";
    for (const button of all("button[data-step]")) {
      const id = button.dataset.step, done = id === BEGIN ? kept.start : kept.taps[id];
      button.classList.toggle("done", Boolean(done));
      told(button.querySelector(".noted"), done ? `✓ ${done.slice(11, 16)}` : "tap");
      const time = button.querySelector(".at");
      if (time && id !== card.last_press) told(time, clock(done && tap(id) !== null ? tap(id) : day.at[id], Boolean(done)));
    }
    for (const wait of day.waits) told(one(`#wait-${wait.place}`), wait.end === null ? card.no_time : clock(wait.end, true));
    told(one("#lift-by"), day.lastLift === null ? "no time for it" : `not after ${clock(day.lastLift, true)}`);
    told(one("#last-press"), clock(day.lastPress));
    told(one("#abort"), clock(day.abort, true));
    told(one("#from-bead"), String(down(day.limit)));
    told(one("#counted"), `${day.begun ? "counted from the bead as tapped" : "counted from the bead as planned: tap BEAD when it begins"}; ${day.read ? "open time as read" : "open time as planned, not read"}`);
    one("#after-abort").hidden = !past;
    one("#kept-times").classList.toggle("past", past);
    bottom(day, at, past, now);
    for (const input of all("[data-field], [data-own]")) {
      const value = input.dataset.field ? kept.entries[input.dataset.field] : kept.own[input.dataset.own];
      if (document.activeElement !== input && input.value !== (value || "")) input.value = value || "";
    }
    for (const note of all("[data-note]")) told(note, noteOf(note.dataset.note));
    days();
    storage();
    document.documentElement.style.scrollPaddingTop = `${one("header").offsetHeight + 8}px`;
    if (at !== null) ring(day, at); else { one("#alarm").hidden = true; document.title = title; }
  }

  // The bar at the foot: the time, what comes next, and from the bead on how long until the abort.
  function bottom(day, at, past, now) {
    told(one("#now-time"), `${two(now.getHours())}:${two(now.getMinutes())}`);
    const open = card.steps.filter((each) => !kept.taps[each.id] && day.at[each.id] !== null).sort((a, b) => day.at[a.id] - day.at[b.id]);
    const next = open.find((each) => at !== null && up(day.at[each.id]) >= at) || open[0];
    const name = next ? one(`button[data-step="${next.id}"] .what`).textContent : "";
    const bar = one("#now");
    if (at === null) told(one("#now-next"), "work has not begun");
    else if (day.pressed !== null) told(one("#now-next"), "pressed home: gaps, flush, photographs, save");
    else if (past) told(one("#now-next"), `PAST ABORT ${clock(day.abort, true)}: do not place`);
    else if (day.begun) { const left = down(day.abort) - at; told(one("#now-next"), `ABORT ${clock(day.abort, true)} in ${Math.floor(left)}:${two(Math.floor((left % 1) * 60))}`); }
    else told(one("#now-next"), next ? `next ${clock(day.at[next.id])} ${next.chain === "both" ? "" : `${next.chain}: `}${name}` : "");
    bar.className = `now ${past ? "past" : day.begun && day.pressed === null ? "running" : ""}`;
  }

  function days() {
    const zero = kept.entries["bonding.date"] || (kept.start || "").slice(0, 10);
    for (const each of all("[data-days]")) {
      const date = /^\d{4}-\d\d-\d\d$/.test(zero) ? new Date(`${zero}T12:00:00`) : null;
      if (date) date.setDate(date.getDate() + Number(each.dataset.days));
      told(each, date ? stamp(date).slice(0, 10) : each.dataset.planned || "day of bonding not noted");
    }
  }

  function storage() {
    told(one("#kept"), store ? "What is tapped and typed is kept on this phone." : "NOT KEPT: this phone keeps nothing for a page like this. All is lost when the page is closed: save before that.");
    one("#kept").classList.toggle("warn", !store);
    const list = one("#others"), found = others();
    list.hidden = !found.length;
    if (list.dataset.found === found.join("|")) return;
    list.dataset.found = found.join("|");
    list.replaceChildren();
    for (const key of found) {
      const words = document.createElement("p"), button = document.createElement("button");
      let old = {};
      try { old = JSON.parse(store.getItem(key)) || {}; } catch { old = {}; }
      words.textContent = `This phone also keeps entries of ${card.record.code} under another mark, ${key.slice(OWN.length)}${old.revision ? `, rev. ${old.revision}` : ""}. They are kept apart and count nothing here.`;
      button.type = "button";
      button.className = "plain";
      button.textContent = `save ${key.slice(OWN.length)} as a file`;
      button.addEventListener("click", () => write({ ...empty(), ...old }));
      list.append(words, button);
    }
  }

  // ---- the file ----

  // The record as a file: what was typed, and the stamps of the taps; what is missing is left out, and so not recorded.
  function record(of) {
    const entries = {};
    for (const field of card.fields) {
      let text = (of.entries[field.id] || "").trim();
      if (text === "") continue;
      const read = /^climate\.(\d)\.time$/.exec(field.id); // the stamp tells the day too
      if (read && text === (of.read[read[1]] || "").slice(11, 16)) text = of.read[read[1]];
      const figure = text.replace(",", ".").replace("−", "-");
      entries[field.id] = field.kind === "number" && /^[+-]?\d+(\.\d+)?$/.test(figure) ? Number(figure) : text;
    }
    const taps = [...of.past, ...Object.entries(of.taps).map(([step, at]) => ({ step, at }))].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
    const { schema, kind, program, code, revision, mark } = of;
    return { schema, kind, program, code, revision, mark, entries, taps };
  }

  function write(of) {
    const text = `${JSON.stringify(record(of), null, 1)}\n`, name = `${of.mark === card.record.mark ? card.stem : `${of.code}-${of.mark}`}-bonding-record.json`;
    one("#text").value = text;
    const link = document.createElement("a"), url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    link.href = url;
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 10000);
    if (of === kept) saved = true;
    told(one("#saved"), `written: ${name}, ${stamp(new Date()).slice(11, 16)}. If no file came, copy the text below into a message.`);
  }

  // ---- fingers ----

  let correcting = null;
  function note(id) {
    const now = stamp(new Date());
    wake();
    const done = id === BEGIN ? kept.start : kept.taps[id];
    if (done) { correct(id); return; }
    if (id === BEGIN) kept.start = now;
    else {
      if (!kept.start) { // a tap is never lost: the start is then taken as planned before it
        const offset = byStep.has(id) ? byStep.get(id).start : 0;
        kept.start = stamp(new Date(Date.now() - offset * MINUTE));
      }
      kept.taps[id] = now;
    }
    keep();
    show();
  }

  function correct(id) {
    correcting = id;
    const at = id === BEGIN ? kept.start : kept.taps[id];
    one("#fix").hidden = false;
    told(one("#fix-head"), `${one(`button[data-step="${id}"] .what`).textContent}: noted ${at.slice(11)}`);
  }

  function moved(minutes) {
    const at = correcting === BEGIN ? kept.start : kept.taps[correcting];
    const changed = stamp(new Date(Date.parse(at) + minutes * MINUTE));
    if (correcting === BEGIN) kept.start = changed; else kept.taps[correcting] = changed;
    keep();
    correct(correcting);
    show();
  }

  function takeBack() {
    if (correcting === BEGIN) { if (!Object.keys(kept.taps).length) kept.start = null; } else delete kept.taps[correcting];
    one("#fix").hidden = true;
    keep();
    show();
  }

  // After the abort: the bead is scraped off and what is done together begins anew; what was tapped stays in the record.
  function anew() {
    for (const id of Object.keys(kept.taps).filter((each) => each === card.last_press || (byStep.has(each) && byStep.get(each).chain === "both"))) {
      kept.past.push({ step: id, at: kept.taps[id] });
      delete kept.taps[id];
    }
    keep();
    show();
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    const { step, look, act, sign: of, larger } = button.dataset;
    if (step) note(step);
    else if (look !== undefined) dress(look);
    else if (larger) button.classList.toggle("done", one(`#${larger}`).classList.toggle("large"));
    else if (of) {
      const text = (kept.entries[of] || "").trim();
      kept.entries[of] = /^[-−]/.test(text) ? text.slice(1) : `−${text.replace(/^\+/, "")}`;
      keep();
      show();
    } else if (act === "heard") {
      kept.heard = kept.heard.concat((one("#alarm").dataset.key || "").split("|")).slice(-60);
      keep();
      show();
    } else if (act === "minus") moved(-1);
    else if (act === "plus") moved(1);
    else if (act === "back") takeBack();
    else if (act === "close") one("#fix").hidden = true;
    else if (act === "anew") twice(button, anew);
    else if (act === "save") write(kept);
    else if (act === "try") { wake(); beep(true); }
    else if (act === "erase") twice(button, () => { kept = empty(); keep(); saved = true; told(one("#saved"), "erased"); show(); });
  });

  // What cannot be taken back is tapped twice.
  function twice(button, doing) {
    if (button.dataset.sure) { delete button.dataset.sure; button.textContent = button.dataset.words; doing(); return; }
    button.dataset.words = button.textContent;
    button.dataset.sure = "1";
    button.textContent = "sure? tap again";
    setTimeout(() => { if (button.dataset.sure) { delete button.dataset.sure; button.textContent = button.dataset.words; } }, 5000);
  }

  document.addEventListener("input", (event) => {
    const { field, own } = event.target.dataset;
    if (field) {
      kept.entries[field] = event.target.value;
      const read = /^climate\.(\d)\.(air|humidity|glass|frame)$/.exec(field);
      if (read) {
        const now = stamp(new Date()), time = `climate.${read[1]}.time`;
        if (!kept.entries[time] || kept.entries[time] === (kept.read[read[1]] || "").slice(11, 16)) kept.entries[time] = now.slice(11, 16);
        kept.read[read[1]] = now;
      }
    } else if (own) kept.own[own] = event.target.value;
    else if (event.target.id === "began" && /^\d\d:\d\d$/.test(event.target.value)) {
      kept.start = `${(kept.start || stamp(new Date())).slice(0, 10)}T${event.target.value}:00`;
    } else return;
    keep();
    show();
  });

  function dress(look) {
    if (look) document.documentElement.dataset.look = look; else delete document.documentElement.dataset.look;
    for (const button of all("button[data-look]")) button.setAttribute("aria-pressed", String(button.dataset.look === (look || "")));
    try { if (store) store.setItem(LOOK, look || ""); } catch { /* then as the phone has it */ }
  }

  window.addEventListener("storage", (event) => { if (event.key === KEY) { load(); show(); } });
  window.addEventListener("beforeunload", (event) => { if (!store && !saved) event.preventDefault(); });
  document.addEventListener("visibilitychange", show);
  load();
  let look = "";
  try { look = (store && store.getItem(LOOK)) || ""; } catch { look = ""; }
  dress(look);
  document.documentElement.classList.add("alive");
  show();
  setInterval(show, 1000);
  globalThis.cardPage = Object.freeze({ dewPoint, openTime, against, clock, plan, record: () => record(kept) });
})();
