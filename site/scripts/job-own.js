// The shop's own checks as steps: made from what its shop.toml says of them, which the device keeps. Their words are text here.
const ownStage = one('[data-id="own"]');
const ownWanted = ({ at_least: least, at_most: most, good }) =>
  [good, least && `at least ${least}`, most && `at most ${most}`].filter(Boolean).map((text) => `Wanted: ${text} (${WORDS.own})`).join("; ");
function ownSteps() {
  all(".step", ownStage).forEach((step) => { steps.delete(step); step.remove(); });
  const checks = shop.kept("checks");
  (Array.isArray(checks) ? checks : []).forEach((check) => {
    const { id, title, unit, caution } = check;
    const step = made("div", { class: "step", "data-step": `own ${id}`, "data-each": "", "data-own": id },
      made("h3", {}, title || id), made("div", { class: "caution" }, made("p", {}, caution || WORDS.noCaution)),
      made("p", {}, WORDS.shopHow), made("div", { class: "step__fields" }));
    steps.set(step, [{
      field: unit ? "check.reading" : "check.answer", kind: unit ? "quantity" : "yes-no", named: id, twice: "yes",
      label: unit ? "Reading" : "Answer", say: ownWanted(check), units: unit, pair: `${unit}|${unit}`,
    }]);
    order.push(step);
    ownStage.append(step);
  });
}
ownSteps();
