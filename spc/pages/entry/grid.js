// Keys in, places filled, the whole list out. Moving on never waits for the server.

const kept = new Map(); // newest list per grid and token: outlives a remount, not a reload

export default function mount(component) {
  const { parentElement, data, setStateValue } = component;
  const host = parentElement.querySelector("[data-grid]");
  if (!host.entry) listen(host);
  const fresh = !host.entry || host.entry.layout.mark !== data.layout.mark;
  if (fresh) host.entry = build(host, data);
  const grid = host.entry;
  grid.send = (whole) => setStateValue("grid", whole);
  if (!fresh && data.draft.seq > grid.seq) recall(grid, data.draft); // the page put values in, as from a trace
  hear(grid, data);
  if (fresh) returnFocus(grid, null, true); // a page just opened stays at its top, where the last verdict stands
  stopIfUnread(grid);
}

function build(host, data) {
  const { layout } = data;
  const part = findParts(host);
  if (part.stop.open) part.stop.close();
  part.reason.hidden = true;
  const grid = {
    host, layout, part, places: makePlaces(layout), byInput: new Map(), keptUnder: `${data.key}\n${layout.token}`,
    seq: 0, judged: 0, struck: [], meanwhile: [], current: null, listens: false, leaving: false, stop: null, overflow: "", send: () => {},
  };
  const remembered = kept.get(grid.keptUnder);
  recall(grid, remembered && remembered.seq > data.draft.seq ? remembered : data.draft);
  buildTable(grid);
  return grid;
}

// What Python says about the texts it has seen; texts changed since are left alone.
function hear(grid, data) {
  const says = (list, place) => {
    const found = list.find((s) => s.column === place.column.name && s.piece === place.piece && s.text === place.text);
    return found || { says: "", outside: false };
  };
  grid.judged = data.draft.seq;
  for (const place of grid.places) {
    const refusal = says(data.refusals, place).says;
    if (refusal || grid.judged >= place.at) place.why = refusal;
    place.beside = says(data.beside, place).says;
    place.mark = says(data.marks, place);
  }
  paint(grid);
}

function listen(host) {
  const with_ = (act) => (event) => act(host.entry, event);
  host.addEventListener("keydown", with_(onKey));
  host.addEventListener("input", with_(onInput));
  host.addEventListener("focusin", with_(onFocus));
  host.addEventListener("focusout", with_(onBlur));
  host.addEventListener("mousedown", (event) => {
    if (event.target.closest("button")) event.preventDefault(); // a button never takes the keys away from a place
  });
  host.addEventListener("click", with_(onClick));
  host.querySelector("[data-stop]").addEventListener("cancel", (event) => event.preventDefault());
  listenOutside(host);
}

function onKey(grid, event) {
  if (grid.stop) return void keyWhileStopped(grid, event);
  wakeSound();
  const place = grid.byInput.get(event.target);
  if (event.ctrlKey || event.altKey || event.metaKey) {
    if (event.key === "Enter" && place && place.typed) takeThenPassOn(grid, place, event);
    return;
  }
  event.stopPropagation();
  if (place) keyInPlace(grid, place, event);
  else if (event.target === grid.part.reasonText) keyInReason(grid, event);
  else if (event.target === grid.part.end) keyAtEnd(grid, event);
  else if (/^[\d.,+\-]$/.test(event.key)) returnFocus(grid, event);
}

function keyInPlace(grid, place, event) {
  const { key, shiftKey } = event;
  const { input } = place;
  const whole = input.selectionStart === 0 && input.selectionEnd === input.value.length;
  const go = (c, piece) => {
    event.preventDefault();
    const other = placeAt(grid, c, piece);
    if (other) focusPlace(grid, other);
  };
  if (key === "Enter" || (key === "Tab" && !shiftKey && place.typed)) {
    event.preventDefault();
    if (input.value.trim() || place.skip) settle(grid, place);
    else take(grid, place);
  } else if (key === "ArrowUp") go(place.c, place.piece - 1);
  else if (key === "ArrowDown") go(place.c, place.piece + 1);
  else if (key === "ArrowLeft" && (whole || input.selectionEnd === 0)) go(place.c - 1, place.piece);
  else if (key === "ArrowRight" && (whole || input.selectionStart === input.value.length)) go(place.c + 1, place.piece);
  else if (key === "Escape") {
    place.typed = false;
    paint(grid);
    input.select();
  }
}

// Take the text, then move on or stop, before the next key can arrive.
function settle(grid, place) {
  if (!take(grid, place)) return void stopAt(grid, place);
  const next = nextOpen(grid, place);
  if (next) focusPlace(grid, next);
  else focusEnd(grid);
}

function keyAtEnd(grid, event) {
  const { key } = event;
  if (key === "Enter" || (key === "Tab" && grid.overflow)) {
    event.preventDefault();
    const text = grid.overflow.trim();
    grid.overflow = "";
    if (text) noPlaceFor(grid, text, "Every place is filled, so nothing was written over. The value is kept in the list below.");
  } else if (key === "ArrowUp") {
    event.preventDefault();
    focusPlace(grid, grid.places[grid.places.length - 1]);
  } else if (key === "Backspace") grid.overflow = grid.overflow.slice(0, -1);
  else if (key.length === 1) {
    event.preventDefault();
    grid.overflow += key;
  }
}

function keyInReason(grid, event) {
  if (event.key === "Escape") return void (closeReason(grid), returnFocus(grid));
  if (event.key !== "Enter") return;
  event.preventDefault();
  const text = grid.part.reasonText.value.trim();
  if (text && !obviousRefusal(text)) {
    noPlaceFor(grid, text, "A gauge value arrived while a reason was being typed. It was not taken as a reason and is kept in the list below.");
  } else skipPlace(grid);
}

function onInput(grid, event) {
  const place = grid.byInput.get(event.target);
  if (!place) return;
  place.typed = true;
  paintPlace(grid, place);
  paintTray(grid);
}

function onFocus(grid, event) {
  const place = grid.byInput.get(event.target);
  if (!grid.stop) grid.listens = Boolean(place) || event.target === grid.part.end || event.target === grid.part.reasonText;
  if (event.target === grid.part.end) grid.current = null;
  if (place) {
    grid.current = place;
    place.input.select();
  }
  paint(grid);
}

function onBlur(grid, event) {
  if (grid.stop) return;
  const place = grid.byInput.get(event.target);
  grid.listens = false;
  if (place && place.typed && !take(grid, place)) stopAt(grid, place);
  else paint(grid);
}

function onClick(grid, event) {
  wakeSound();
  const place = grid.byInput.get(event.target);
  if (place && !place.typed) place.input.select();
  const button = event.target.closest("button");
  if (!button || button.disabled) return;
  const act = button.dataset.do;
  if (act === "read") readStop(grid);
  else if (act === "redo") redoPiece(grid, Number(button.dataset.piece));
  else if (act === "put") putIn(grid);
  else if (act === "aside" || act === "aside-all") setAside(grid, act === "aside-all");
  else if (act === "skip") openReason(grid);
  else if (act === "pick") grid.part.reasonText.value = button.textContent;
  else if (act === "skip-yes") skipPlace(grid);
  else if (act === "skip-no") { closeReason(grid); returnFocus(grid); }
}

function focusPlace(grid, place, stays = false) {
  grid.current = place;
  place.input.focus({ preventScroll: stays });
  place.input.select();
}

function focusEnd(grid) {
  grid.current = null;
  paint(grid);
  grid.part.end.focus();
}

// Back to where the operator stands; a digit of `event` then lands there, or in the overflow at the end.
function returnFocus(grid, event, stays = false) {
  const place = grid.current || nextOpen(grid, null);
  if (place) return void focusPlace(grid, place, stays);
  focusEnd(grid);
  if (event) keyAtEnd(grid, event);
}

function openReason(grid) {
  const { part, current } = grid;
  if (!current) return;
  part.reason.hidden = false;
  part.reasonTitle.textContent = `Why is ${placeWords(current)} left out?`;
  part.reasonText.value = "";
  part.reasonSays.textContent = "";
  part.reasonText.focus();
  paint(grid);
}

function closeReason(grid) {
  grid.part.reason.hidden = true;
  paint(grid);
}

function skipPlace(grid) {
  const { part, current: place } = grid;
  const reason = part.reasonText.value.trim();
  if (!/\p{L}.*\p{L}/u.test(reason)) {
    part.reasonSays.textContent = "A reason in words is needed, so that somebody else can understand the gap later.";
    part.reasonText.focus();
    return;
  }
  strike(grid, place, place.text, place.why ? "refused" : "left out");
  Object.assign(place, { text: "", skip: reason, why: "", beside: "", mark: null, seen: false, typed: false, at: grid.seq + 1 });
  changed(grid);
  closeReason(grid);
  const next = nextOpen(grid, place);
  if (next) focusPlace(grid, next);
  else focusEnd(grid);
}
