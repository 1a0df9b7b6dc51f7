// What other scripts of a page may use.
const cardWord = (name) => {
  for (const data of doorCards.values()) if (data.words[name]) return data.words[name];
  return { symbol: "", dimension: "text", metric: "", us: "", meaning: name.replace(/_/g, " ") };
};
const cardCallee = (id) => {
  for (const data of doorCards.values()) if (data.callees[id]) return data.callees[id];
  return null;
};
return {
  file, card, run, made: doorTake, answer, solveFor, fragment, units, show, cite, drawing, NoValue,
  word: cardWord,
  chart: chartFigure,
  rows: (id, name, text) => parseRows(name, card(id).rows[name], text),
  site: { address: SITE.address, version: SITE.version, data_version: SITE.data_version },
};
