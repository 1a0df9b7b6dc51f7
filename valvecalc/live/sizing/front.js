// What the pages may use.
/** A duty from the texts of a form or a file: { duty, troubles }; what is wrong is left out of the duty. */
const readDuty = (raw, file = "") => dutyFrom(raw, file);
/** Why a text is refused as an entry of a table of the duty, null if it can be read (or says that it is not known). */
const refusal = (table, key, text) => {
  if (isUnknown(text)) return null;
  try { readCell(DATA.duty[table][key], text.trim()); return null; } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    return { need: refused.need, do: refused.do, likely: refused.likely };
  }
};
/** Every valve judged against a duty: the plain data of `valvecalc size --json`. `change` is [entry, text], `system` us. */
const size = (duty, valves, problems = [], { most = null, change = null, system = "metric" } = {}) => {
  const asked = demandOf(duty);
  const after = change && demandOf(changedDuty(duty, ...change));
  const ranked = rankValves(valves, after || asked);
  return told(after || asked, ranked, problems, after ? flipsOf(valves, asked, after) : [], most, system);
};
/** The page for any supplier. */
const requestPage = (duty, system = "metric") => toldRequest(demandOf(duty), system);
/** [loss of the fullest path, shift limits with the duty] of the leaders as SVG; "" where there is nothing to show. */
const charts = (duty, valves, system = "metric") => {
  const asked = demandOf(duty);
  return chartsOf(asked, rankValves(valves, asked), system);
};
return {
  readDuty, readDutyFile, dutyToml, refusal, readStock, size, request: requestPage, charts, symbol: symbolDrawn,
  units, Refused, InputError,
  fields: DATA.duty, columns: DATA.columns, about: DATA.about,
  position: { read: readPosition, text: positionText, words: positionWords },
  entryText: lackText,
  version: DATA.version, dataVersion: DATA.data_version,
};
