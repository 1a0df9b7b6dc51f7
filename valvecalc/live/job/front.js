// What the page of the bench sheet may use. `raw` is the job as the device keeps it.
/**
 * The job read: as found, its `left` the same as left or null; `tools`: the shop's instruments, [{ id, range, accuracy }]; `own`: its limits
 * as texts; `checks`: its own checks, see own.js; `lacking` names those that a reading names and nobody knows.
 */
const read = (raw, tools = [], own = {}, checks = []) => {
  ownChecks = new Map(checks.map((check) => [check.id, check]));
  ownLimits = ownRead(own);
  shopTools = new Map(tools.map((tool) => [tool.id, tool]));
  toolsLacking = new Set();
  const ran = ["yes", "no"].includes(wordOf((rowsOf(raw.as_received)[0] || {}).reproduced));
  const { found, left, faults } = jobTables(raw);
  return { ...found, left: left && { ...left, later: true }, faults, ran, lacking: toolsLacking };
};
/** Why a text is refused as a value of a field (of the answer to a check of the shop, by its id), null if it can be read. */
const refusal = (table, key, raw, id = "") => {
  try { if (table === "check") checkAnswer(ownChecks.get(id), key, raw); else jobValue(table, key, raw); return null; } catch (refused) {
    if (!refused.need) throw refused;
    return { need: refused.need, do: refused.do, likely: refused.likely || [] };
  }
};
return { read, refusal, wants: checksOf, judged: judgedOf, closed: closedOf, figure: figureOf, from: fromOf, held: heldOf, sheets: limitSheets };
