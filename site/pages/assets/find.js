// Wakes the search field of a page (form.find): what is found stands below it while something is asked. The index comes
// at the first focus. What is asked also stands in the address (#q=words): Back and a shared link show it again.
(() => {
  "use strict";
  const FEW = 5; // answers of a kind shown before "more"
  const PAUSE = 500; // ms without a key before it is told to the ear and kept in the address
  const form = document.querySelector("form.find");
  if (!form) return;
  const field = form.querySelector("input");
  const list = document.createElement("section");
  list.className = "found";
  list.setAttribute("aria-label", "Found");
  form.after(list);

  /** An element with text or other elements in it; a text stays text. */
  function made(tag, className, ...within) {
    const element = document.createElement(tag);
    if (className) element.className = className;
    element.append(...within);
    return element;
  }

  let finder = null;
  const ready = async () => {
    await shop.load("assets/finding.js", "assets/find-index.js");
    finder = finder || finding(findIndex);
  };
  const failed = () => shop.say("Search not loaded: no reception?", true);

  // ---- the question in the address; a browser that is given too many addresses at once refuses: the next one keeps it
  const asked = (text) => new URLSearchParams(text.replace(/^[#?]/, "")).get("q") || "";
  const fragment = (text) => `#${new URLSearchParams({ q: text })}`;
  function keep() {
    const text = field.value.trim();
    if (text === asked(location.hash)) return;
    const address = location.pathname + (text ? fragment(text) : "");
    try { history.replaceState(null, "", address); } catch (fault) { /* as above */ }
  }

  // ---- what is found
  const door = ({ address, title, line }) => {
    const link = made("a", "door", made("strong", "", title));
    if (line) link.append(made("small", "", line));
    link.href = shop.page(address);
    return link;
  };
  const doors = (entries) => made("div", "doors doors--list", ...entries.map(door));
  const folded = (told, ...within) => made("details", "", made("summary", "", told), ...within);
  /** Answers under what they are; those that are many of a kind, or further off, stay closed at first. */
  function kinds(entries, few) {
    const groups = new Map();
    entries.forEach((entry) => groups.set(entry.kind, [...(groups.get(entry.kind) || []), entry]));
    return [...groups].flatMap(([kind, some]) => {
      const [first, more] = [some.slice(0, few), some.slice(few)];
      const rest = more.length ? [folded(`${more.length} more: ${kind.title}`, doors(more))] : [];
      return [made("h2", "found__kind", kind.title), doors(first), ...rest];
    });
  }
  const quoted = (words) => words.map((word) => `“${word}”`).join(", ");

  let telling = 0;
  function tell(text) {
    clearTimeout(telling);
    telling = setTimeout(() => { keep(); if (text) shop.say(text); }, PAUSE);
  }

  function show() {
    const text = field.value.trim();
    const { near, far, unknown } = finder.ask(text);
    form.classList.toggle("find--found", near.length > 0);
    if (!text) {
      list.replaceChildren();
      tell("");
      return;
    }
    const count = near.length ? `${near.length + far.length} found` : "Nothing found";
    const told = made("p", "found__count", `${count}.`, unknown.length ? ` No page has ${quoted(unknown)}.` : "");
    if (near.length) {
      const rest = folded(`${far.length} more, less near`, ...kinds(far, FEW));
      rest.open = near.length < FEW;
      list.replaceChildren(told, ...kinds(near, FEW), ...(far.length ? [rest] : []));
    } else {
      told.append(" Try one word, or another word.");
      const every = { address: "find/", title: "The list of everything", line: "By kind, nothing left out." };
      list.replaceChildren(told, doors([every]));
    }
    tell(count);
  }
  const look = () => ready().then(show).catch(failed);

  field.addEventListener("focus", () => ready().catch(failed));
  field.addEventListener("input", () => (finder ? show() : look()));
  list.addEventListener("click", keep);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    keep();
    if (new URL(form.action).pathname === location.pathname) {
      field.blur(); // the keyboard of a phone covers the answers
    } else {
      location.href = shop.page(`find/${fragment(field.value.trim())}`);
    }
  });

  /** What a link or the way back brings along; a form sent without script has it before the #. */
  const brought = () => asked(location.hash) || asked(location.search);
  addEventListener("hashchange", () => {
    if (brought() === field.value.trim()) return;
    field.value = brought();
    look();
  });
  field.value = field.value || brought(); // letters typed before this script came stay
  if (field.value || document.activeElement === field) look();
})();
