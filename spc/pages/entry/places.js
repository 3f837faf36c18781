// The places of the grid, the way through them, and the record of everything typed. Texts only.

function makePlaces(layout) {
  const most = Math.max(...layout.columns.map((column) => column.pieces));
  const places = [];
  const add = (column, c, piece) => {
    if (piece > column.pieces) return;
    places.push({ column, c, piece, text: "", skip: "", seen: false, why: "", beside: "", mark: null, at: 0, typed: false });
  };
  if (layout.by === "characteristic") {
    layout.columns.forEach((column, c) => { for (let p = 1; p <= most; p += 1) add(column, c, p); });
  } else {
    for (let p = 1; p <= most; p += 1) layout.columns.forEach((column, c) => add(column, c, p));
  }
  return places;
}

function isOpen(place) {
  return !place.text && !place.skip;
}

function placeAt(grid, c, piece) {
  return grid.places.find((place) => place.c === c && place.piece === piece) || null;
}

function placeNamed(grid, name, piece) {
  return grid.places.find((place) => place.column.name === name && place.piece === piece) || null;
}

// The next open place after `place`; an open one before it only when none is left after it.
function nextOpen(grid, place) {
  const start = place ? grid.places.indexOf(place) + 1 : 0;
  const round = [...grid.places.slice(start), ...grid.places.slice(0, start)];
  return round.find((other) => isOpen(other) && !other.column.later) || null;
}

// Lay a stored draft into the places.
function recall(grid, draft) {
  grid.seq = draft.seq;
  grid.struck = draft.struck.map((entry) => ({ ...entry }));
  grid.meanwhile = draft.meanwhile.map((entry) => ({ ...entry }));
  for (const place of grid.places) {
    const cell = (draft.cells[place.column.name] || [])[place.piece - 1];
    if (!cell) continue;
    place.text = cell.text;
    place.skip = cell.skip || "";
    place.seen = Boolean(cell.seen);
    place.why = place.text ? obviousRefusal(place.text) : "";
  }
}

function record(grid) {
  const cells = {};
  for (const column of grid.layout.columns) cells[column.name] = [];
  for (const place of grid.places) {
    cells[place.column.name][place.piece - 1] = { text: place.text, skip: place.skip, seen: place.seen };
  }
  return { token: grid.layout.token, seq: grid.seq, cells, struck: grid.struck, meanwhile: grid.meanwhile };
}

// Every change sends the whole list, so that a list that never arrives costs nothing.
function changed(grid) {
  grid.seq += 1;
  const whole = structuredClone(record(grid));
  kept.set(grid.keptUnder, whole);
  grid.leaving = true;
  grid.send(whole);
  setTimeout(() => { grid.leaving = false; }, 0); // stands behind the sending itself
  paint(grid);
}

function strike(grid, place, text, why) {
  if (text) grid.struck.push({ column: place.column.name, piece: place.piece, text, why });
}

// Take what stands in the input. Returns true when the grid may move on.
function take(grid, place) {
  if (!place.typed) return !place.why;
  const text = place.input.value.trim();
  if (!text && place.skip) {
    place.typed = false; // touched and left empty: the reason stays
    return true;
  }
  strike(grid, place, place.text, place.why ? "refused" : "typed over");
  place.typed = false;
  place.text = text;
  place.skip = "";
  place.beside = "";
  place.mark = null;
  place.seen = false;
  place.why = text ? obviousRefusal(text) : "";
  place.at = grid.seq + 1;
  changed(grid);
  return !place.why;
}

function redoPiece(grid, piece) {
  const row = grid.places.filter((place) => place.piece === piece);
  for (const place of grid.places.filter((other) => other.typed)) {
    strike(grid, place, place.input.value.trim(), "redo"); // half typed anywhere: no reading, but kept
    place.typed = false;
  }
  for (const place of row) {
    strike(grid, place, place.text, "redo");
    Object.assign(place, { text: "", skip: "", why: "", beside: "", mark: null, seen: false, typed: false, at: grid.seq + 1 });
  }
  changed(grid);
  focusPlace(grid, row.find((place) => !place.column.later) || row[0]);
}

function waiting(grid) {
  return grid.meanwhile.filter((value) => value.fate === "waiting");
}

// Put the oldest waiting value where the operator stands.
function putIn(grid) {
  const [value] = waiting(grid);
  const place = grid.current;
  if (!value || !place) return;
  Object.assign(value, { fate: "put in", into_column: place.column.name, into_piece: place.piece });
  place.input.value = value.text;
  place.typed = true;
  settle(grid, place);
}

function setAside(grid, all) {
  for (const value of all ? waiting(grid) : waiting(grid).slice(0, 1)) value.fate = "set aside";
  changed(grid);
  returnFocus(grid);
}
