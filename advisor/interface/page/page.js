// The live parts of the page. It knows no baking: it sends what stands in the fields to the server on this machine, and
// puts what comes back, escaped there, into its place. The view that writes formulas is in design.js.

export { all, asItStands, by, openers, put, rewrite, save, say, slowly, stops };

const by = (id) => document.getElementById(id);
const all = (what, inside = document) => [...inside.querySelectorAll(what)];
const tab = crypto.randomUUID ? crypto.randomUUID() : String(Math.random()).slice(2);
const KEPT = "dough-advisor";

const kept = (() => {
  try { return JSON.parse(sessionStorage.getItem(KEPT)) ?? {}; } catch { return {}; }
})();
const state = { moved: {}, process: {}, first: "", before: [], saw: [], given: [], kept: "", ...kept, readable: false };

function keep() {
  const { moved, process, first, before, saw, given, opened, kept } = state;
  const what = { moved, process, first, before: before.slice(-50), saw, given, opened, kept, text: by("text").value };
  try { sessionStorage.setItem(KEPT, JSON.stringify(what)); } catch { /* a full store loses nothing that is shown */ }
}

// ---- asking the server

const underWay = new Map();

// Ask for one piece of work; null where something newer took its place. What is asked again in a place drops the older.
async function ask(name, asked = {}, place = name) {
  underWay.get(place)?.abort();
  const stop = new AbortController();
  underWay.set(place, stop);
  try {
    const answer = await fetch(`/work/${name}`, {
      method: "POST", signal: stop.signal, headers: { "content-type": "application/json" },
      body: JSON.stringify({ region: by("region").value, units: units(name), ...asked, tab, place }),
    });
    if (answer.status === 409) return null;
    const said = answer.headers.get("content-type")?.includes("json") ? await answer.json() : {};
    if (!answer.ok) throw new Error(said.said ?? "The page has to be opened anew: run 'advisor open' again.");
    trouble("");
    return said;
  } catch (error) {
    if (error.name === "AbortError") return null;
    trouble(error instanceof TypeError ? "The assistant does not answer; was it stopped?" : error.message);
    return null;
  } finally {
    if (underWay.get(place) === stop) underWay.delete(place);
  }
}

// As long as nobody has chosen, what is written follows the formula, also where that is not sent along.
const units = (name) => (by("units").value === "written" && name !== "read" && written_in) || by("units").value;
let written_in = "";

function trouble(what) { if (by("trouble").textContent !== what) by("trouble").textContent = what; }

// A screen reader hears a thing once: nothing is said again that is said already.
let toSay;
function say(what, wait = 0) {
  clearTimeout(toSay);
  toSay = setTimeout(() => { if (by("status").textContent !== what) by("status").textContent = what; }, wait);
}

// Call it once things have been quiet for some milliseconds.
function quiet(work, ms) {
  let timer;
  const later = (...given) => { clearTimeout(timer); timer = setTimeout(() => work(...given), ms); };
  later.now = (...given) => { clearTimeout(timer); return work(...given); };
  later.stop = () => clearTimeout(timer);
  return later;
}

function put(id, html) {
  const place = by(id);
  if (place.shown === html) return;
  place.shown = html;
  place.innerHTML = html ?? "";
}

// ---- what takes seconds says so, second by second, and can be stopped

async function slowly(name, asked, part, go) {
  const said = by(`${part}-said`), stop = by(`${part}-stop`), began = Date.now();
  const tell = () => { said.textContent = `Working on it: ${Math.round((Date.now() - began) / 1000)} s so far.`; };
  said.textContent = "Working on it ...";
  say("Working on it.");
  go.disabled = true;
  stop.hidden = false;
  const clock = setInterval(tell, 1000);
  const found = await ask(name, asked, part);
  clearInterval(clock);
  go.disabled = false;
  stop.hidden = true;
  said.textContent = found?.said ?? "";
  return found;
}
function stops(part, go) {
  by(`${part}-stop`).addEventListener("click", async () => {
    await ask("stop", {}, part);  // whatever is under way in its place is dropped for it
    by(`${part}-said`).textContent = "Stopped.";
    go.focus();
  });
}

// ---- views

const views = () => all(".view");
function show(which, focus = true) {
  const view = by(which)?.classList.contains("view") ? by(which) : by("write");
  for (const one of views()) one.hidden = one !== view;
  for (const link of all("header nav a")) {
    if (link.hash === `#${view.id}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  const head = view.querySelector("h1");
  document.title = `${head.textContent}: dough advisor`;
  if (focus) { head.focus({ preventScroll: true }); scrollTo(0, 0); }
  openers[view.id]?.();
}
const openers = {};
addEventListener("hashchange", () => {
  const which = location.hash.slice(1);
  if (by(which)?.classList.contains("view")) show(which);
});

// ---- writing

const read = quiet(async () => {
  const found = await ask("read", { text: by("text").value });
  if (!found) return;
  state.readable = found.ok;
  by("clear").hidden = !by("text").value.trim() && !state.before.length;
  by("clear").textContent = by("text").value.trim() ? "Clear this for another formula" : "Bring back what was here";
  written_in = found.units;
  put("lines", found.lines);
  by("read-said").textContent = found.said;
  by("show-problem").hidden = !unclear();
  if (document.activeElement === by("text")) say(found.said, 1500);
  for (const [id, html] of [["missing", found.missing], ["process", found.process]]) {
    put(id, html);
    by(`${id}-part`).hidden = !html;
  }
  if (found.ok) {
    put("amounts", found.amounts);
    takeMoves();
    state.first ||= by("text").value;
  }
  for (const view of ["design", "before", "after", "report"]) {
    const nothing = by(`${view}-nothing`);
    nothing.hidden = found.ok;
    nothing.dataset.empty ??= nothing.textContent;
    nothing.textContent = by("text").value.trim() ? `${found.said} Under "Write" each of them says what it may mean.` : nothing.dataset.empty;
    by(`${view}-page`).hidden = !found.ok;
  }
  for (const view of ["after", "design"]) by(`${view}-name`).textContent = found.name;
  keep();
  for (const view of ["before", "report"]) if (!by(view).hidden) openers[view]();
}, 250);

const unclear = () => document.querySelector("#lines .problem");
by("show-problem").addEventListener("click", () => {
  const line = unclear();
  line?.scrollIntoView({ block: "center" });
  line?.querySelector("button")?.focus({ preventScroll: true });
});

// A new text for the formula, with a way back to what was there.
function rewrite(text, { fresh = false } = {}) {
  if (by("text").value.trim()) remember();
  by("text").value = text;
  state.moved = {};
  state.process = {};
  if (fresh) startAnew();
  return read.now();
}

// Another formula is another loaf: nothing that was seen on the one before belongs to it.
function startAnew() {
  Object.assign(state, { first: "", saw: [], given: [], kept: "" });
  for (const one of ticks()) one.checked = false;
  ticked();
  by("asking").hidden = by("after-answer-part").hidden = true;
  put("comparison", "");
}

function remember() {
  state.before.push({ text: by("text").value, moved: { ...state.moved }, process: { ...state.process } });
}

// The field is emptied for another formula; until something is written there the one before can come back.
by("clear").addEventListener("click", async () => {
  const back = !by("text").value.trim() && state.before.pop();
  await rewrite(back ? back.text : "", { fresh: true });
  if (back) { Object.assign(state, { moved: back.moved, process: back.process }); takeMoves(); }
  say(back ? "The formula is there again." : "The field is empty.");
  by("text").focus();
});

by("text").addEventListener("input", () => { state.moved = {}; state.process = {}; read(); });
for (const id of ["region", "units"]) by(id).addEventListener("change", () => read.now());
by("demo").addEventListener("change", async () => {
  const name = by("demo").value;
  const found = name && await ask("demo", { name });
  if (found) await rewrite(found.text, { fresh: true });
});

by("write").addEventListener("click", async ({ target }) => {
  const { choose, from, to, field } = target.dataset;
  if (choose) {
    const found = await ask("choose", { text: by("text").value, line: Number(choose), from, to });
    if (found) { await rewrite(found.text); by("understood-h").scrollIntoView({ block: "nearest" }); }
  } else if (field) {
    all("#process [data-key]").find((one) => one.dataset.key === field)?.focus();
  }
});
by("process").addEventListener("change", async ({ target }) => {
  const { key } = target.dataset;
  const found = key && await ask("line", { text: by("text").value, key, value: target.value });
  if (found) await rewrite(found.text);
});

// ---- before the bake

const number = (id) => (by(id).value === "" ? null : Number(by(id).value));
function limits() {
  return {
    net_carb_max: number("net-carb") || null,
    avoid: all("#limits [name=avoid]:checked").map((one) => one.value),
    on_hand: by("on-hand").value.split(",").map((one) => one.trim()).filter(Boolean),
  };
}
const asItStands = () => ({ text: by("text").value, moved: state.moved, ...state.process, ...limits() });

function putAtOnce(found) {
  by("before-name").textContent = found.name;
  put("before-dough", found.dough);
  for (const id of ["verdict", "reason", "risks", "numbers", "water", "time", "slice"]) put(id, found[id]);
}

async function look() {
  if (!state.readable) return;
  plan.stop();
  underWay.get("plan")?.abort();
  stale(true);
  const found = await ask("look", asItStands());
  if (!found) return;
  staying(() => putAtOnce(found));
  say(found.said, 900);
  plan();
}

const plan = quiet(async () => {
  by("planning").textContent = "Working out what to change ...";
  const found = await ask("plan", asItStands());
  if (!found) {
    if (by("trouble").textContent) by("planning").textContent = "";
    return;
  }
  by("planning").textContent = "";
  staying(() => {
    putAtOnce(found);
    put("answer", found.answer);
    put("taps", found.changes);
    by("taps-part").hidden = !found.changes;
    stale(false);
  });
}, 350);

// What comes or goes above a field that is being moved, or else above what is being read, must not push it away.
function staying(work) {
  const read = document.elementFromPoint(innerWidth / 2, innerHeight / 2);
  const held = [document.activeElement, read].map((one) => one?.closest("#amounts li, .answer > div")).find(Boolean);
  const was = held?.getBoundingClientRect().top;
  work();
  if (held) scrollBy(0, held.getBoundingClientRect().top - was);
}

// What was worked out for other amounts is told apart from what holds now.
function stale(is) { for (const id of ["answer", "taps-part"]) by(id).classList.toggle("stale", is); }

openers.before = () => { if (state.readable) look(); };

// Moves are kept from the text as it is written: "undo" takes the last one back.
// One move goes on until the hand rests or turns to another field: keys move a slider by one step each.
let moving = null;
const rested = quiet(() => { moving = null; }, 1500);
by("amounts").addEventListener("input", ({ target }) => {
  const { place, process } = target.dataset;
  const value = Number(target.value);
  if (target.value === "" || !(value >= 0)) return;
  if (moving !== target) { remember(); moving = target; }
  rested();
  for (const other of target.closest("li").querySelectorAll("input")) if (other !== target) other.value = target.value;
  if (process) state.process[process] = kept_as(target, value);
  else state.moved[place] = kept_as(target, value);
  showWas(target.closest("li"));
  keep();
  lookSoon();
});
by("amounts").addEventListener("focusout", () => rested.now());

// One look at a time: while one is under way the newest amounts wait, and nothing in between is asked for.
let looking = false, again = false;
async function lookSoon() {
  if (looking) { again = true; return; }
  looking = true;
  do { again = false; await look(); } while (again);
  looking = false;
}

function showWas(entry) {
  const was = entry.querySelector(".was"), now = entry.querySelector("input").value;
  was.textContent = Number(was.dataset.was) === Number(now) ? "" : `was ${was.dataset.was}`;
}

// A field may count pieces or degrees of another scale; grams, C and minutes are what is kept.
const scale = ({ each = 1, zero = 0 }) => [Number(each), Number(zero)];
function kept_as({ dataset }, value) { const [each, zero] = scale(dataset); return (value - zero) * each; }
function shown_as({ dataset }, stored) { const [each, zero] = scale(dataset); return stored / each + zero; }

// Put the moves that are kept back onto sliders that came anew.
function takeMoves() {
  for (const entry of all("#amounts li")) {
    for (const field of entry.querySelectorAll("input")) {
      const { place, process } = field.dataset;
      const moved = shown_as(field, process ? state.process[process] : state.moved[place]);
      if (Number.isFinite(moved)) field.value = Number(moved.toPrecision(6));
    }
    showWas(entry);
  }
}

by("limits").addEventListener("change", () => lookSoon());

async function apply(change, told = {}) {
  const found = await ask("apply", { ...asItStands(), ...told, change });
  if (found) { await rewrite(found.text); say("The formula is written so."); }
}
by("apply").addEventListener("click", () => apply(""));
for (const id of ["taps", "answer"]) by(id).addEventListener("click", ({ target }) => {
  const tap = target.closest("[data-apply]");
  if (tap) apply(tap.dataset.apply);
});
by("undo").addEventListener("click", async () => {
  const last = state.before.pop();
  if (!last) { say("There is nothing to undo."); return; }
  by("text").value = last.text;
  Object.assign(state, { moved: last.moved, process: last.process });
  await read.now();
  say("Taken back.");
});
by("compare").addEventListener("click", async () => {
  const found = await ask("compare", { ...asItStands(), was: state.first || by("text").value });
  if (!found) return;
  put("comparison", found.comparison);
  by("comparison").querySelector("h2")?.scrollIntoView();
  say("Compared with how it was first.");
});

// ---- after the bake

const ticks = () => all("#symptoms input");
function ticked() {
  state.saw = ticks().filter((one) => one.checked).map((one) => one.value);
  state.given = state.given.filter((one) => !state.saw.includes(one.id));
  const names = ticks().filter((one) => one.checked).map((one) => one.closest("label").querySelector("strong").textContent);
  by("ticked").textContent = names.length ? `Ticked: ${names.join(", ")}.` : "Nothing is ticked yet.";
  offerToKeep();
  keep();
}
by("symptoms").addEventListener("change", ticked);

// As words are typed only faults that have them are shown; those that are ticked stay.
by("phrase").addEventListener("input", () => {
  const words = by("phrase").value.toLowerCase().split(/\s+/).filter((word) => word.length > 2);
  const entries = all(".symptom");
  const fits = (one) => one.querySelector("input").checked || words.some((word) => one.dataset.words.includes(word));
  for (const one of entries) one.hidden = words.length > 0 && !fits(one);
  by("none-found").hidden = entries.some((one) => !one.hidden);
});
by("hear").addEventListener("submit", async (event) => {
  event.preventDefault();
  if (!by("phrase").value.trim()) return;
  const found = await ask("hear", { phrase: by("phrase").value });
  if (!found) return;
  for (const one of ticks()) if (found.saw.includes(one.value)) one.checked = true;
  for (const one of all(".symptom")) one.hidden = false;
  by("none-found").hidden = true;
  put("offers", found.offers);
  by("heard").textContent = found.said;
  say(found.said);
  if (found.saw.length) by("phrase").value = "";
  ticked();
});
by("offers").addEventListener("click", ({ target }) => {
  const { tick } = target.dataset;
  if (!tick) return;
  ticks().find((one) => one.value === tick).checked = true;
  target.closest(".choices").remove();  // what the other sentences may mean is still asked
  by("offers").shown = null;
  if (!by("offers").querySelector("button")) { put("offers", ""); by("heard").textContent = ""; }
  by("phrase").value = "";
  for (const one of all(".symptom")) one.hidden = false;
  ticked();
});

// What was told: ticks, and answers to questions in the order in which they were given.
function told() {
  const symptoms = state.given.filter((one) => one.kind === "symptom" && one.answer);
  const seen = symptoms.filter((one) => one.answer === "seen").map((one) => one.id);
  return {
    saw: [...new Set([...state.saw, ...seen])],
    not: symptoms.filter((one) => one.answer !== "seen").map((one) => one.id),
    answers: Object.fromEntries(
      state.given.filter((one) => one.kind === "question" && one.answer).map((one) => [one.id, one.answer])),
    given: state.given.map((one) => one.id),
  };
}
// It may take a moment; that something is done stands where the button was tapped.
async function worked_out(name) {
  by("ticked").textContent = "Working it out ...";
  const found = await ask(name, { ...asItStands(), ...told() });
  ticked();
  return found;
}
let question = null;
async function askNext() {
  const found = await worked_out("question");
  if (!found) return;
  question = found;
  by("asking").hidden = false;
  put("question", found.question || `<p>${found.said}</p>`);
  by("question-back").disabled = !state.given.length;
  // What gets the focus is read out by that: it is not said a second time.
  if (found.question) by("question-h").focus();
  else { say(found.said); await answer(); }
}
by("ask-on").addEventListener("click", askNext);
by("question").addEventListener("click", ({ target }) => {
  if (target.dataset.answer === undefined || !question?.id) return;
  state.given.push({ kind: question.kind, id: question.id, answer: target.dataset.answer });
  keep();
  askNext();
});
by("question-back").addEventListener("click", () => { state.given.pop(); keep(); askNext(); });

async function answer() {
  const found = await worked_out("diagnose");
  if (!found) return;
  by("after-answer-part").hidden = false;
  put("after-answer", found.answer);
  put("after-taps", found.changes);
  by("after-taps-h").hidden = !found.changes;
  put("followed", `<option value="">no change that was proposed</option>${found.followed}`);
  by("after-answer-h").focus();
}
by("answer-now").addEventListener("click", answer);
by("enough").addEventListener("click", answer);
for (const id of ["after-answer", "after-taps"]) by(id).addEventListener("click", async ({ target }) => {
  const tap = target.closest("[data-apply]");
  if (!tap) return;
  await apply(tap.dataset.apply, { ...told(), baked: true });
  location.hash = "#before";
});

by("keep").addEventListener("submit", async (event) => {
  event.preventDefault();
  const noted = {};
  for (const [name, value] of new FormData(by("keep"))) {
    if (value === "") continue;
    const field = by("keep").elements[name];
    noted[name] = name === "nothing_else" ? true : field.type === "number" || name.startsWith("mark_") ? Number(value) : value;
  }
  const what = bake_told();
  by("keep-it").disabled = true;  // a second tap in haste keeps no second bake
  const found = await ask("keep", { ...asItStands(), ...told(), ...noted, another: Boolean(state.kept) });
  if (found) {
    state.kept = what;
    keep();
    by("kept-said").textContent = found.said;
    say(found.said);
  }
  offerToKeep();
});

// All that is told of a bake: once it is kept as it stands, nothing is there to keep until some of it changes.
function bake_told() {
  return JSON.stringify([by("text").value, state.moved, state.process, told(), [...new FormData(by("keep"))]]);
}
function offerToKeep() {
  const there = state.kept && state.kept === bake_told();
  by("keep-it").disabled = Boolean(there);
  by("keep-it").textContent = there ? "It is kept" : state.kept ? "Keep it as another bake" : "Keep it in the record";
  if (!there) by("kept-said").textContent = "";
}
by("after").addEventListener("input", offerToKeep);
openers.after = offerToKeep;

// ---- record

let open_bake = null;
async function showBakes() {
  const found = await ask("bakes", { words: by("find-words").value });
  if (!found) return;
  by("record-said").textContent = found.said;
  by("record-page").hidden = !found.list;
  put("bakes", found.list);
  if (found.formulas) put("baked-formula", found.formulas);
  put("learnt", found.learnt);
  by("learnt-part").hidden = !found.learnt;
}
openers.record = showBakes;

function shown(html, { bake = null } = {}) {
  put("record-shown", html);
  open_bake = bake;
  by("edit-notes").hidden = !bake;
  by("take-back-sure").hidden = by("taken-back").hidden = true;
  if (bake) by("bake-notes").value = bake.notes;
  by("record-shown").focus();
  by("record-shown").scrollIntoView({ block: "start" });
}
by("find-bakes").addEventListener("submit", (event) => { event.preventDefault(); showBakes(); });
by("record").addEventListener("click", async ({ target }) => {
  const { bake, export: form } = target.dataset;
  if (bake) {
    const found = await ask("bake", { number: Number(bake) });
    if (found) shown(found.bake, { bake: found });
  } else if (form) {
    const found = await ask("export", { form });
    if (found) save(found.name, found.file, "text/plain");
  } else if (target.id === "two-bakes") {
    const found = await ask("two-bakes", { bakes: all("#bakes input:checked").map((one) => one.value) });
    if (found) shown(found.comparison);
  }
});
by("over-time").addEventListener("submit", async (event) => {
  event.preventDefault();
  const found = await ask("over-time", { name: by("baked-formula").value });
  if (found) shown(found.time);
});
by("edit-notes").addEventListener("submit", async (event) => {
  event.preventDefault();
  const found = open_bake && await ask("note", { number: open_bake.number, notes: by("bake-notes").value });
  if (found) { by("record-said").textContent = found.said; say(found.said); }
});
by("take-back").addEventListener("click", () => {
  by("take-back-sure").hidden = false;
  by("take-back-no").focus();
});
by("take-back-no").addEventListener("click", () => { by("take-back-sure").hidden = true; by("take-back").focus(); });
by("take-back-yes").addEventListener("click", async () => {
  const found = open_bake && await ask("take-back", { number: open_bake.number });
  if (!found) return;
  shown("");
  by("taken-back-said").textContent = found.said;
  by("taken-back").hidden = false;
  by("put-again").dataset.again = found.number;
  by("put-again").focus();
  say(found.said);
  await showBakes();
});
by("put-again").addEventListener("click", async ({ target }) => {
  const found = await ask("take-back", { number: Number(target.dataset.again), undo: true });
  if (!found) return;
  by("taken-back").hidden = true;
  await showBakes();
  by("record-said").textContent = `${found.said} ${by("record-said").textContent}`;
  say(found.said);
});
by("write-bake").addEventListener("click", async () => {
  if (!open_bake) return;
  await rewrite(open_bake.formula, { fresh: true });
  location.hash = "#write";
});

function save(name, text, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 2000);
}

// ---- class

let lesson = null, at = 0;
const told_steps = new Set();
by("teach").addEventListener("submit", (event) => { event.preventDefault(); teach({ topic: by("topic").value }); });
by("lesson-file").addEventListener("change", async () => {
  const file = by("lesson-file").files[0];
  if (file) by("step-place").textContent = "";  // at once, so that nobody takes the lesson before for the new one
  if (file?.size > 60_000) trouble("That is no lesson: it is larger than 60 kB.");
  else if (file) await teach({ topic: "lesson", lesson: await file.text() });
  by("lesson-file").value = "";  // so that the same file can be taken again once it is mended
});

// What the server has to be told of a topic each time: a formula or a lesson of her own it does not keep.
const ofHerOwn = (topic) => ["own", "lesson"].includes(topic);
async function teach(asked, focus = true) {
  const sent = { ...(ofHerOwn(asked.topic) ? asItStands() : {}), ...asked };
  by("step-place").textContent = "";
  by("teaching").textContent = "Working it out ...";
  const found = await ask("course", sent);
  if (!underWay.has("course")) by("teaching").textContent = "";
  if (!found) return;
  lesson = { ...found, sent };
  at = 0;
  told_steps.clear();
  put("chain", found.chain);
  put("beside", "");
  by("doubts").textContent = found.doubts;
  by("lesson").hidden = false;
  by("change-course").hidden = !found.changes;
  for (const sheet of ["handout", "key", "lesson"]) by(`sheet-${sheet}`).href = `/sheet/${sheet}/${encodeURIComponent(asked.topic)}`;
  showStep(focus);
}
// Who opens the view first sees the first step of a lesson, and so what it is for.
openers.class = () => {
  if (lesson || underWay.has("course")) return;
  by("topic").selectedIndex = by("topic").querySelector("optgroup option").index;
  teach({ topic: by("topic").value }, false);
};
by("sheets").addEventListener("click", async (event) => {
  const sheet = event.target.id.replace("sheet-", "");
  if (event.target.tagName !== "A" || !ofHerOwn(lesson.sent.topic)) return;
  event.preventDefault();
  const found = await ask("sheet", { ...lesson.sent, sheet });
  if (found) { save(`${sheet}.html`, found.html, "text/html"); say("The sheet is saved."); }
});

function showStep(focus = true) {
  const step = lesson.steps[at], waits = Boolean(step.told) && !told_steps.has(at);
  by("step-place").textContent = `${at + 1} of ${lesson.steps.length}.`;
  by("step-stage").textContent = step.stage;
  by("step-h").textContent = step.title;
  put("step-shown", step.shown);
  put("step-told", waits ? "" : step.told);
  by("step-told").hidden = waits || !step.told;
  by("step-on").textContent = waits ? "Show the answer" : "Next";
  by("step-on").disabled = !waits && at + 1 === lesson.steps.length;
  by("step-back").disabled = at === 0;
  const links = lesson.steps.slice(0, at + 1).map((one) => one.link);
  for (const link of all("#chain li")) {
    const number = Number(link.dataset.link);
    link.classList.toggle("to-come", !links.includes(number));
    if (number === step.link) link.setAttribute("aria-current", "step");
    else link.removeAttribute("aria-current");
  }
  if (focus) by("step-h").focus({ preventScroll: true });
}
function onward() {
  if (!lesson) return;
  if (lesson.steps[at].told && !told_steps.has(at)) told_steps.add(at);
  else if (at + 1 < lesson.steps.length) at += 1;
  else return;
  showStep();
}
function backward() { if (lesson && at > 0) { at -= 1; showStep(); } }
by("step-on").addEventListener("click", onward);
by("step-back").addEventListener("click", backward);
addEventListener("keydown", (event) => {
  if (by("class").hidden || !lesson || event.altKey || event.ctrlKey || event.metaKey) return;
  if (event.target.closest("input, select, textarea, .wide")) return;
  if (["ArrowRight", "PageDown"].includes(event.key)) onward();
  else if (["ArrowLeft", "PageUp"].includes(event.key)) backward();
  else return;
  event.preventDefault();
});
by("large").addEventListener("change", () => by("class").classList.toggle("large", by("large").checked));
by("change-course").addEventListener("submit", async (event) => {
  event.preventDefault();
  const found = await ask("change-course", { ...lesson.sent, changes: by("class-change").value });
  if (found) { put("beside", found.beside); say(found.said); }
});
by("causes-of").addEventListener("submit", async (event) => {
  event.preventDefault();
  const found = await ask("causes", { topic: by("fault").value });
  if (!found) return;
  put("causes", found.causes);
  by("causes").focus();
});

by("two-loaves").addEventListener("submit", async (event) => {
  event.preventDefault();
  const found = await ask("two-loaves", { ...asItStands(), left: by("left-loaf").value, right: by("right-loaf").value });
  if (!found) return;
  put("loaves", found.beside);
  by("loaves").focus();
  say(found.said);
});

// ---- report

const asTold = () => { const { given, ...rest } = told(); return { ...asItStands(), ...rest }; };
openers.report = async () => {
  if (!state.readable) return;
  const found = await ask("essentials", asTold());
  if (!found) return;
  put("essentials", `<h2 class="title"></h2>${found.essentials}${found.picture}`);
  by("essentials").querySelector(".title").textContent = found.name;
  put("label", found.label);
};
by("save-report").addEventListener("click", async () => {
  const wished = all("#report-with :checked").map((one) => one.value);
  const found = await slowly("report", { ...asTold(), with: wished }, "whole", by("save-report"));
  if (found) { save(found.name, found.file, "text/html"); by("whole-said").textContent = "The report is saved."; say("The report is saved."); }
});
stops("whole", by("save-report"));
// One sheet at a time: the essence, unless the label was asked for.
by("print-report").addEventListener("click", () => print());
by("print-label").addEventListener("click", () => { by("report").classList.add("label-alone"); print(); });
addEventListener("afterprint", () => by("report").classList.remove("label-alone"));

// ---- other devices

by("another")?.addEventListener("click", async () => {
  const answer = await fetch("/link", { method: "POST", body: "{}" });
  const found = await answer.json();
  if (!answer.ok) { trouble(found.said); return; }
  by("another-link").innerHTML = `<p>Open it there, once: <a></a></p>${found.picture}`;
  const link = by("another-link").querySelector("a");
  link.textContent = link.href = found.link;
});

// ---- the start

if (kept.text !== undefined && kept.opened === by("text").defaultValue) by("text").value = kept.text;
else Object.assign(state, { moved: {}, process: {}, first: "", before: [], saw: [], given: [], kept: "" });
for (const one of ticks()) one.checked = state.saw.includes(one.value);
ticked();
state.opened = by("text").defaultValue;
show(location.hash.slice(1), false);
if (by("text").value.trim()) read.now();
