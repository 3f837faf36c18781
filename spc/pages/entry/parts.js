// The visible parts: built once a token, afterwards only filled. Data enters by textContent alone.

function make(tag, className, text) {
  const node = document.createElement(tag);
  if (className) node.className = className;
  if (text !== undefined) node.textContent = text;
  return node;
}

function fillList(list, texts) {
  list.replaceChildren(...texts.map((text) => make("li", "", text)));
}

function findParts(host) {
  const one = (name) => host.querySelector(`[data-${name}]`);
  return {
    next: one("next"), count: one("count"), table: one("table"), end: one("end"),
    tray: one("tray"), trayTitle: one("tray-title"), trayList: one("tray-list"), put: host.querySelector("[data-do=put]"),
    reason: one("reason"), reasonTitle: one("reason-title"), reasonPicks: one("reason-picks"),
    reasonText: one("reason-text"), reasonSays: one("reason-says"), skip: host.querySelector("[data-do=skip]"),
    stop: one("stop"), stopTitle: one("stop-title"), stopText: one("stop-text"), stopSays: one("stop-says"),
    stopHeld: one("stop-held"), stopHeldTitle: one("stop-held-title"),
  };
}

function buildTable(grid) {
  const { columns } = grid.layout;
  const head = make("tr");
  head.append(make("th", "corner", "Piece"));
  columns.forEach((column) => head.append(headOf(column)));
  const body = make("tbody");
  const most = Math.max(...columns.map((column) => column.pieces));
  grid.redo = [];
  for (let piece = 1; piece <= most; piece += 1) body.append(rowOf(grid, piece));
  const top = make("thead");
  top.append(head);
  grid.part.table.replaceChildren(top, body);
  grid.part.table.style.minWidth = `${150 + 172 * columns.length}px`;
  grid.part.table.classList.toggle("noted", columns.some((column) => column.mode === "deviation_um" || column.is_noted));
  grid.part.reasonPicks.replaceChildren(...grid.layout.skip_reasons.map((reason) => {
    const pick = make("button", "", reason);
    pick.type = "button";
    pick.dataset.do = "pick";
    return pick;
  }));
}

function headOf(column) {
  const head = make("th", "head");
  head.scope = "col";
  head.append(make("span", "label", column.label));
  head.append(make("span", "unit", inMode(column)));
  if (column.limits) head.append(make("span", "limits", column.limits));
  if (column.later) head.append(make("span", "later", "comes later"));
  return head;
}

function rowOf(grid, piece) {
  const row = make("tr");
  const side = make("th", "side");
  side.scope = "row";
  const again = make("button", "redo", "Redo");
  again.type = "button";
  again.dataset.do = "redo";
  again.dataset.piece = piece;
  again.setAttribute("aria-label", `Redo piece ${piece}`);
  grid.redo[piece] = again;
  const both = make("div", "both");
  both.append(make("span", "number", String(piece)), again);
  side.append(both);
  row.append(side);
  grid.layout.columns.forEach((column, c) => row.append(cellOf(grid, placeAt(grid, c, piece))));
  return row;
}

function cellOf(grid, place) {
  const cell = make("td", place ? "cell" : "none");
  if (!place) return cell;
  const input = make("input", "value");
  input.type = "text";
  input.value = place.text;
  input.inputMode = place.column.mode === "deviation_um" ? "text" : "decimal"; // a touch pad without a minus sign is no use
  input.autocomplete = "off";
  input.spellcheck = false;
  input.setAttribute("aria-label", placeWords(place));
  Object.assign(place, { cell, input, note: make("span", "note") });
  grid.byInput.set(input, place);
  cell.append(input, place.note);
  return cell;
}

// Bring everything but the live inputs up to date.
function paint(grid) {
  for (const place of grid.places) paintPlace(grid, place);
  const wanted = grid.places.filter((place) => !place.column.later);
  const done = wanted.filter((place) => !isOpen(place) && !place.why).length;
  const safe = grid.judged >= grid.seq ? "kept" : "being kept …";
  grid.part.count.textContent = `${done} of ${wanted.length} in · ${safe}`;
  grid.part.end.textContent = endWords(grid);
  grid.part.end.hidden = Boolean(nextOpen(grid, null));
  grid.part.skip.disabled = !grid.current || !grid.part.reason.hidden;
  grid.redo.forEach((button, piece) => {
    button.classList.toggle("idle", grid.places.every((place) => place.piece !== piece || isOpen(place)));
  });
  paintNext(grid);
  paintTray(grid);
}

function paintPlace(grid, place) {
  if (!place.typed && place.input.value !== place.text) place.input.value = place.text;
  const refused = Boolean(place.why) && !place.typed;
  place.cell.classList.toggle("refused", refused);
  place.cell.classList.toggle("skipped", Boolean(place.skip));
  place.cell.classList.toggle("waits", place.column.later && isOpen(place));
  place.cell.classList.toggle("here", grid.current === place);
  place.input.setAttribute("aria-invalid", String(refused));
  const mark = place.typed ? null : place.mark;
  place.cell.classList.toggle("outside", Boolean(mark && mark.outside));
  let note = [place.beside, mark && mark.says].filter(Boolean).join(" · ");
  if (refused) note = `not taken: ${place.why}`;
  else if (place.skip) note = `left out: ${place.skip}`;
  else if (place.column.later && isOpen(place)) note = "comes later";
  place.note.textContent = note;
}

function paintNext(grid) {
  const { next } = grid.part;
  next.classList.toggle("deaf", !grid.listens);
  if (!grid.listens) next.textContent = "Not listening: touch a place to go on";
  else if (!grid.current) next.textContent = nextOpen(grid, null) ? "Touch a place to go on" : "All in";
  else next.textContent = `Now ${placeWords(grid.current)}`;
}

function paintTray(grid) {
  const { part } = grid;
  const held = waiting(grid);
  part.tray.hidden = !held.length;
  if (!held.length) return;
  part.trayTitle.textContent = "These values arrived while the grid was stopped. Put each one in, or set it aside; both are recorded.";
  fillList(part.trayList, held.map((value) => value.text));
  const place = grid.current;
  const again = place && place.why && !place.typed; // what came after a refused text hardly belongs in its place
  part.put.disabled = !place || Boolean(again);
  if (!place) part.put.textContent = `Touch the place ${held[0].text} belongs to`;
  else if (again) part.put.textContent = `First gauge ${placeWords(place)} again`;
  else part.put.textContent = `Put ${held[0].text} into ${placeWords(place)}`;
}
