// The stop: a page over everything, a sound, and a list that keeps what the gauge goes on sending.

let sound = null;

// Browsers allow sound only after a key or a touch, so the first key of the grid prepares it.
function wakeSound() {
  try {
    sound = sound || new AudioContext();
    if (sound.state === "suspended") sound.resume().catch(() => {});
  } catch {
    sound = null; // a machine without audio still shows the page
  }
}

function beep() {
  if (!sound) return;
  [0, 0.22, 0.44].forEach((delay) => {
    const tone = sound.createOscillator();
    const level = sound.createGain();
    tone.type = "square";
    tone.frequency.value = 740;
    level.gain.value = 0.2;
    tone.connect(level).connect(sound.destination);
    tone.start(sound.currentTime + delay);
    tone.stop(sound.currentTime + delay + 0.14);
  });
}

// `place` is null where a value arrived and no place was open for it.
function openStop(grid, place, title, text, says) {
  if (grid.stop) return;
  grid.stop = { place, title, text, says, arriving: arrivingNow(grid, place) };
  closeReason(grid);
  paintStop(grid);
  grid.part.stop.showModal();
  grid.part.stop.focus();
  beep();
}

function stopAt(grid, place) {
  openStop(grid, place, `Not taken: ${placeWords(place)}`, place.text, place.why);
}

// A value half sent when the stop comes goes on arriving in the stop's own list, not in a place.
function arrivingNow(grid, place) {
  let arriving = grid.overflow;
  grid.overflow = "";
  for (const other of grid.places) {
    if (other === place || !other.typed) continue;
    arriving += other.input.value;
    other.input.value = other.text;
    other.typed = false;
  }
  return arriving;
}

function keyWhileStopped(grid, event) {
  event.stopPropagation();
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  const { key } = event;
  if (key.length > 1 && !["Enter", "Tab", "Escape", "Backspace"].includes(key)) return;
  event.preventDefault();
  if (key === "Escape") return void readStop(grid);
  if (key === "Enter" || key === "Tab") hold(grid);
  else if (key === "Backspace") grid.stop.arriving = grid.stop.arriving.slice(0, -1);
  else grid.stop.arriving += key;
  paintStop(grid);
}

function hold(grid) {
  const text = grid.stop.arriving.trim();
  grid.stop.arriving = "";
  if (!text) return;
  const { place } = grid.stop;
  grid.meanwhile.push({
    text,
    column: place ? place.column.name : "",
    piece: place ? place.piece : 0,
    fate: "waiting",
    into_column: "",
    into_piece: 0,
  });
  changed(grid);
}

// The operator has read it: back to the refused place, its text selected.
function readStop(grid) {
  hold(grid);
  const { place } = grid.stop;
  grid.stop = null;
  grid.part.stop.close();
  if (place) place.seen = true;
  changed(grid);
  if (place) focusPlace(grid, place);
  else returnFocus(grid);
  stopIfUnread(grid);
}

// A refusal nobody has read yet, unless the operator is already typing over that text.
function stopIfUnread(grid) {
  if (grid.stop) return;
  const unread = grid.places.find((place) => place.why && !place.seen && !place.typed);
  if (unread) stopAt(grid, unread);
}

function noPlaceFor(grid, text, why) {
  openStop(grid, null, "No open place for this value", text, why);
  grid.stop.arriving = text + grid.stop.arriving;
  hold(grid);
  paintStop(grid);
}

function paintStop(grid) {
  const { part, stop } = grid;
  if (!stop) return;
  const held = waiting(grid).map((value) => value.text);
  part.stopTitle.textContent = stop.title;
  part.stopText.textContent = stop.text;
  part.stopSays.textContent = stop.says;
  part.stopHeldTitle.textContent = heldWords(held.length);
  fillList(part.stopHeld, held);
  if (stop.arriving) part.stopHeld.append(make("li", "arriving", `${stop.arriving} …`));
}
