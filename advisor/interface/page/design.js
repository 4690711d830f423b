// The view in which formulas are written: first ones from what is at hand, and what can be made of the one that is there.

import { all, asItStands, by, openers, put, rewrite, save, say, slowly, stops } from "./page.js";

const found_for = {};  // by part: the answer, and the formula that it was worked out for
const formula = () => { const { text, moved, ...rest } = asItStands(); return JSON.stringify([text, moved, rest]); };

async function work(part, name, asked) {
  const of = formula(), found = await slowly(name, asked, part, by(`${part}-go`));
  if (!found) return null;
  found_for[part] = { ...found, of };
  put(`${part}-out`, found.answer);
  fresh();
  by(`${part}-out`).focus();
  return found;
}

// What was worked out for another formula than the one that is written now is told apart.
const PARTS = ["better", "far", "plan"];
function fresh() {
  const now = formula();
  for (const part of PARTS) {
    const old = found_for[part] && found_for[part].of !== now;
    by(`${part}-out`).classList.toggle("stale", Boolean(old));
    if (old) by(`${part}-said`).textContent = "This is of the formula as it was.";
  }
}
openers.design = fresh;

for (const part of ["new", ...PARTS]) stops(part, by(`${part}-go`));

const number = (id) => (by(id).value === "" ? null : Number(by(id).value));
const ask_by = (part, name, asked) => by(part).addEventListener("submit", (event) => {
  event.preventDefault();
  const wished = asked();
  if (wished) work(part, name, wished);
});
function lacking(part, what, field) {
  by(`${part}-said`).textContent = what;
  say(what);
  by(field).focus();
  return null;
}

ask_by("new", "start", () => !by("new-from").value.trim() && !by("new-like").checked ? lacking("new", "Say what is at hand first.", "new-from") : ({
  kind: by("new-kind").value,
  from: by("new-from").value,
  slices: number("new-slices"),
  pan: by("new-pan").value,
  net_carb_max: number("new-net_carb_max") || null,
  protein_min: number("new-protein_min") || null,
  cost_max: number("new-cost_max") || null,
  avoid: all("#new-avoid :checked").map((one) => one.value),
  ...(by("new-like").checked ? { like: true, text: by("text").value } : {}),
}));
ask_by("better", "better", () => ({
  ...asItStands(),
  aim: by("better-aim").value,
  keep: by("better-keep").value,
  at_most: number("better-share"),
  swap: by("better-swap").value,
}));
ask_by("far", "tolerance", asItStands);
by("plan").addEventListener("submit", async (event) => {
  event.preventDefault();
  const found = await work("plan", "plan-bakes", { ...asItStands(), bakes: Number(by("plan-bakes").value) });
  if (!found) return;
  put("plan-table", found.table);
  by("plan-table-part").hidden = false;
});

by("design").addEventListener("click", async ({ target }) => {
  const part = target.closest("#new-out") ? "new" : "better";
  if (target.dataset.take === undefined) return;
  await rewrite(found_for[part].cards[Number(target.dataset.take)], { fresh: part === "new" });
  location.hash = part === "new" ? "#write" : "#before";
  say("The formula is written so.");
});
by("save-plan").addEventListener("click", () => save(found_for.plan.name, found_for.plan.file, "text/csv"));
by("print-plan").addEventListener("click", () => { by("design").classList.add("table-alone"); print(); });
addEventListener("afterprint", () => by("design").classList.remove("table-alone"));
