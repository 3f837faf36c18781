// Sentences the operator reads, and the one thing the browser may refuse by itself: a text that is no number.

function obviousRefusal(text) {
  if (/^[+\-−]?[\d.,]*\d[\d.,]*$/.test(text)) return "";
  if (/\d/.test(text)) return "Something else than a number stands in it. Allowed: digits, one sign in front, a decimal mark.";
  return "This is not a number. Allowed: digits, one sign in front, a decimal mark.";
}

function placeWords(place) {
  return `piece ${place.piece} · ${place.column.label}`;
}

function inMode(column) {
  return column.mode === "deviation_um" ? `deviation in µm from the master, ${column.master_size}` : `${column.unit}, to ${column.step}`;
}

function endWords(grid) {
  const later = grid.places.filter((place) => place.column.later && isOpen(place));
  if (!later.length) return "Every value is in. To change one, touch it.";
  const names = [...new Set(later.map((place) => place.column.label))].join(", ");
  return `Every value that can be gauged now is in. Still to come: ${names}.`;
}

function heldWords(count) {
  if (!count) return "What the gauge sends now is listed here and kept.";
  return count === 1 ? "One value is waiting. It is kept:" : `${count} values are waiting. They are kept:`;
}
