// A text in CSV into rows of cells: what Python's csv.reader(strict=True) does, and its words where it stops; for half
// an end of line those of stock.py.
const TABLE_LONGEST = 131072; // characters of a cell

/** The rows of a table whose cells are parted by `mark`; an empty line is an empty row. Throws TableError. */
const readTable = (text, mark = ",") => {
  const rows = [];
  const ends = (letter) => letter === "\n" || letter === "\r" || letter === undefined;
  const long = (cell) => {
    if (cell.length > TABLE_LONGEST && [...cell].length > TABLE_LONGEST) {
      throw new TableError(`field larger than field limit (${TABLE_LONGEST})`);
    }
    return cell;
  };
  let at = 0;
  const quoted = () => {
    let cell = "";
    for (;;) {
      const end = text.indexOf('"', at + 1);
      cell = long(cell + text.slice(at + 1, end < 0 ? text.length : end));
      if (end < 0) throw new TableError("unexpected end of data");
      at = end + 1;
      if (text[at] !== '"') break;
      cell += '"';
    }
    if (text[at] !== mark && !ends(text[at])) throw new TableError(`'${mark}' expected after '"'`);
    return long(cell);
  };
  const further = new RegExp(`[^${mark}\r\n]*`, "y");
  const bare = () => {
    further.lastIndex = at;
    const [cell] = further.exec(text);
    at += cell.length;
    return long(cell);
  };
  while (at < text.length) {
    const cells = [];
    if (!ends(text[at])) {
      cells.push(text[at] === '"' ? quoted() : bare());
      while (text[at] === mark) {
        at += 1;
        cells.push(text[at] === '"' ? quoted() : bare());
      }
    }
    rows.push(cells);
    const start = at;
    while (text[at] === "\r") at += 1;
    if (text[at] === "\n") at += 1;
    else if (at > start && at < text.length) {
      throw new TableError("half an end of line in the midst of a row");
    }
  }
  return rows;
};
class TableError extends Error {}
