// Finding by words that are not quite the right ones: valvecalc/finding.py once more, held to it by
// tests/sitegen/test_find.py. No page is needed for it: finding(index).ask(text) gives the entries, best first.
// The index (assets/find-index.js, printed by sitegen/find.py) holds the rules and the entries by kind.
const finding = (() => {
  "use strict";

  /** A text as small letters and digits without accents; a symbol is one word with what is below it: p_T is pt. */
  const words = (text) => (/[^ -~]|['`_]/.test(text) ? bare(text) : text).toLowerCase().match(/\p{L}+|\p{Nd}+/gu) || [];
  const bare = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").replace(/['\u2019\u02bc`]/g, "")
    .replace(/(^|[^\p{L}\p{N}])([\p{L}\p{N}]{1,2})_/gu, "$1$2");

  /** A word without the ends that change with its use: leaks, leaking and leaked are leak. */
  function root(word) {
    if (word.length > 3 && word.endsWith("s") && !/(ss|us|is)$/.test(word)) word = word.slice(0, -1);
    for (const ending of ["ing", "ed"]) {
      const stem = word.endsWith(ending) ? word.slice(0, -ending.length) : "";
      if (stem.length > 2 && /[aeiouy]/.test(stem) && !stem.endsWith("e")) {
        word = stem;
        break;
      }
    }
    if (word.length > 3 && word.endsWith("e")) word = word.slice(0, -1);
    if (word.length > 3 && word[word.length - 1] === word[word.length - 2]) word = word.slice(0, -1);
    return word.length > 3 && word.endsWith("y") ? `${word.slice(0, -1)}i` : word;
  }
  const met = new Map(); // word -> its root
  const roots = (text) => words(text).map((word) => {
    if (!met.has(word)) met.set(word, root(word));
    return met.get(word);
  });
  const number = (word) => /^\p{Nd}/u.test(word);

  /** Slips between two words: letters left out, put in, changed, or two changed over; most + 1 where more. */
  function apart(first, second, most) {
    if (Math.abs(first.length - second.length) > most) return most + 1;
    let earlier = [];
    let before = [];
    let row = Array.from({ length: second.length + 1 }, (_, j) => j);
    for (let i = 1; i <= first.length; i += 1) {
      [earlier, before, row] = [before, row, [i]];
      let least = i;
      for (let j = 1; j <= second.length; j += 1) {
        const [letter, other] = [first[i - 1], second[j - 1]];
        let best = Math.min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter === other ? 0 : 1));
        const changedOver = i > 1 && j > 1 && letter === second[j - 2] && first[i - 2] === other;
        if (changedOver) best = Math.min(best, earlier[j - 2] + 1);
        row.push(best);
        if (best < least) least = best;
      }
      if (least > most) return most + 1;
    }
    return Math.min(row[second.length], most + 1);
  }

  // Which letters a word has, as bits. A slip brings in one letter at most and takes one out: most words need no count.
  const letters = (word) => [...word].reduce((bits, letter) => bits | (1 << (letter.codePointAt(0) % 32)), 0);
  const fewBits = (bits, most) => {
    for (let left = most; bits; left -= 1, bits &= bits - 1) if (!left) return false;
    return true;
  };
  const near = (own, bits, known, most) =>
    Math.abs(own.length - known.word.length) <= most
    && fewBits(bits & ~known.bits, most) && fewBits(known.bits & ~bits, most) && apart(own, known.word, most) <= most;

  /** The index made ready to be asked. */
  return (index) => {
    const { worth } = index;
    const idle = new Set(index.idle.split(" "));
    const units = new Set(index.units.split(" "));
    const same = index.same.map((group) => group.split(",").map((phrase) => phrase.split(" ")));
    const entries = index.kinds.flatMap((kind) =>
      kind.entries.map(([address, title, line = "", extra = "", names = ""]) => ({
        kind,
        address: address[0] === "#" ? `words/${address.slice(1)}/#${title.replace(/ /g, "_")}` : address,
        title,
        line,
        texts: { title, line, words: extra, names },
      })));
    /** The roots of a text but for those that never decide, each once and in order. */
    const deciding = (text) => [...new Set(roots(text))].filter((one) => !idle.has(one)).sort();
    const called = new Map(); // what a page is called, its title and its name in the address -> entries' places
    const places = new Map(); // root -> entry's place -> what it counts for there
    const titles = entries.map((entry, place) => {
      for (const [field, text] of Object.entries({ ...entry.texts, kind: entry.kind.title })) {
        const told = roots(text);
        const joined = field === "title" ? told.slice(1).map((next, at) => told[at] + next) : [];
        for (const known of [...told, ...joined]) {
          if (!places.has(known)) places.set(known, new Map());
          const row = places.get(known);
          row.set(place, Math.max(row.get(place) || 0, worth[field]));
        }
      }
      const title = deciding(entry.title);
      if (!entry.address.includes("#")) {
        for (const name of [title, deciding(entry.address.replace(/\/$/, "").replace(/.*\//, ""))]) {
          const key = name.join(" ");
          called.set(key, (called.get(key) || new Set()).add(place));
        }
      }
      return new Set(title);
    });
    const every = [...new Set([...places.keys(), ...same.flat(2)])].map((word) => ({ word, bits: letters(word) }));
    const phrases = new Map(); // by the first root: a phrase that means the same as others, with those
    for (const group of same) {
      for (const phrase of group) phrases.set(phrase[0], [...(phrases.get(phrase[0]) || []), { phrase, group }]);
    }
    const none = new Map();

    const meant = new Map();
    function meanings(word) {
      if (meant.has(word)) return meant.get(word);
      const own = root(word);
      const found = new Map();
      const slips = word.length < 4 || places.has(own) || number(word) ? 0 : word.length < 8 ? 1 : 2;
      const bits = letters(own);
      for (const one of every) {
        const known = one.word;
        const begun = word.length > 1 && (known.startsWith(word) || (own.length > 2 && known.startsWith(own)));
        if (known === own) found.set(known, 1);
        else if (begun) found.set(known, worth.beginning);
        else if (known.length > 3 && own.length - known.length <= 3 && own.startsWith(known)) {
          found.set(known, worth.ending);
        } else if (slips && near(own, bits, one, slips)) found.set(known, worth.slip);
      }
      meant.set(word, found);
      return found;
    }

    /** What may be meant: from word, to word, the roots that an entry needs for it, what it counts for. */
    function readings(asked) {
      const likely = asked.map(meanings);
      const told = [];
      likely.forEach((known, at) => {
        known.forEach((value, one) => told.push([at, at + 1, [one], value]));
        const both = at && root(asked[at - 1] + asked[at]);
        if (at && places.has(both)) told.push([at - 1, at + 1, [both], worth.joined]);
        for (const { phrase, group } of [...known.keys()].flatMap((one) => phrases.get(one) || [])) {
          const value = Math.min(...phrase.map((part, step) => likely[at + step]?.get(part) || 0)) * worth.same;
          const others = value ? group.filter((other) => other !== phrase) : [];
          others.forEach((other) => told.push([at, at + phrase.length, other, value]));
        }
      });
      return told;
    }

    /** The words to look for, each with whether it decides nothing beside others. A number with a unit behind it is
        a reading and stands on no page; its unit says a little where a group of words names it. All, if nothing else
        is left. */
    function lookedFor(asked) {
      const slight = (word) => number(word) || [...word].length === 1 || idle.has(root(word));
      let kept = [];
      let numbers = [];
      let behind = false;
      for (const word of asked) {
        if (number(word)) numbers.push({ word, minor: true });
        else if (units.has(word) && (numbers.length || behind)) {
          [numbers, behind] = [[], true];
          const named = (phrases.get(word) || []).some(({ phrase }) => phrase.length === 1);
          if (named) kept.push({ word, minor: true });
        } else {
          kept.push(...numbers, { word, minor: slight(word) });
          [numbers, behind] = [[], false];
        }
      }
      kept.push(...numbers);
      if (kept.every(({ minor }) => minor)) kept = asked.map((word) => ({ word, minor: slight(word) }));
      return kept;
    }

    /** What each entry is worth that meets enough of the question: place -> worth. */
    function valued(best, weights, touched) {
      const whole = weights.reduce((sum, weight) => sum + weight, 0);
      const scores = new Map();
      for (const place of [...new Set(best.flatMap((row) => [...row.keys()]))].sort((a, b) => a - b)) {
        let met = 0;
        let sum = 0;
        best.forEach((row, at) => {
          if (row.has(place)) {
            met += weights[at];
            sum += row.get(place) * weights[at];
          }
        });
        if (met >= worth.enough * whole) {
          const title = titles[place];
          const share = [...title].filter((one) => touched.has(one)).length / Math.max(1, title.size);
          const score = (sum / whole) * (1 - worth.short + worth.short * share) * entries[place].kind.worth;
          scores.set(place, Math.round(score * 1e9));
        }
      }
      return scores;
    }

    /** What is called just so, then by kind, the best of each kind first. A kind with an answer as good as any comes
        before the others. */
    function ranked(scores, just, unknown) {
      const best = Math.max(0, ...scores.values());
      const tops = new Map();
      scores.forEach((score, place) => {
        const { kind } = entries[place];
        tops.set(kind, Math.max(tops.get(kind) || 0, score));
      });
      const found = [...scores].map(([place, score]) => {
        const entry = entries[place];
        const other = just.has(place) ? 0 : 1;
        const lower = tops.get(entry.kind) < worth.equal * best ? 1 : 0;
        const near = !other || score >= worth.near * best;
        return { entry, score, near, key: [other, lower, index.kinds.indexOf(entry.kind), -score, place] };
      });
      found.sort((a, b) => a.key.map((part, at) => part - b.key[at]).find((part) => part) || 0);
      return {
        near: found.filter(({ near }) => near).map(({ entry }) => entry),
        far: found.filter(({ near, score }) => !near && score >= worth.least * best).map(({ entry }) => entry),
        unknown,
      };
    }

    /** Answers to a question as it is typed: {near, far} the best, by kind, {unknown} its words that stand nowhere. */
    function ask(question) {
      const sought = lookedFor(words(question).slice(0, worth.most));
      const asked = sought.map(({ word }) => word);
      const best = asked.map(() => new Map());
      const touched = new Set();
      for (const [first, after, phrase, value] of readings(asked)) {
        const rows = phrase.map((part) => places.get(part) || none);
        phrase.forEach((part) => touched.add(part));
        for (const place of rows.reduce((a, b) => (b.size < a.size ? b : a)).keys()) {
          if (rows.every((row) => row.has(place))) {
            const here = value * Math.min(...rows.map((row) => row.get(place)));
            for (let at = first; at < after; at += 1) best[at].set(place, Math.max(best[at].get(place) || 0, here));
          }
        }
      }
      // What a word of the question decides: the more, the fewer entries have it.
      const weight = (row) => (row.size ? Math.log(1 + entries.length / (row.size + worth.common)) : 0);
      const weights = best.map((row, at) => weight(row) * (sought[at].minor ? worth.minor : 1));
      const unknown = asked.filter((word, at) => !best[at].size && !sought[at].minor);
      const decided = !unknown.length || best.some((row, at) => row.size && !sought[at].minor);
      const scores = decided ? valued(best, weights, touched) : new Map();
      return ranked(scores, called.get(deciding(asked.join(" ")).join(" ")) || none, unknown);
    }
    return { ask };
  };
})();
