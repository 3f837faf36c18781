// What happens on the page around the grid: stray keys, and saves that must not overtake the last value.
//
// Streamlit sends everything that changes within one turn of the browser as one message. A value of this grid in
// it makes the server run the grid's fragment alone, and a save in the same message would be dropped. So a save
// that comes too early is held for a moment, until the value has left.

const HELD_MS = 10;
const OTHER_KEYS = "input,textarea,select,button,a[href],summary,canvas,iframe,dialog,[contenteditable],[role=dialog],[role=combobox],[role=slider],[role=tab],[role=radio],[role=option]";

function listenOutside(host) {
  const hear = (kind, act) => {
    const heard = (event) => {
      if (!host.isConnected) document.removeEventListener(kind, heard, true);
      else act(host.entry, event, event.composedPath().includes(host));
    };
    document.addEventListener(kind, heard, true);
  };
  hear("keydown", onStrayKey);
  hear("pointerdown", onStrayTouch);
  hear("click", onStrayClick);
}

// A gauge that sends while nothing on the page has the focus is still heard.
function onStrayKey(grid, event, inside) {
  if (inside) return;
  if (grid.stop) return void keyWhileStopped(grid, event);
  const plain = !event.ctrlKey && !event.altKey && !event.metaKey;
  const nowhere = !document.activeElement || !document.activeElement.closest(OTHER_KEYS);
  if (plain && nowhere && /^[\d.,+\-]$/.test(event.key)) returnFocus(grid, event);
}

// The finger goes down on something else, a save perhaps: what stands in the place leaves now.
function onStrayTouch(grid, event, inside) {
  const place = grid.current;
  if (inside || grid.stop || !place || !place.typed) return;
  if (!take(grid, place)) stopAt(grid, place);
}

function onStrayClick(grid, event, inside) {
  if (inside || !grid.leaving) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  const [target] = event.composedPath();
  setTimeout(() => target.dispatchEvent(new MouseEvent("click", { bubbles: true, composed: true, cancelable: true })), HELD_MS);
}

// Ctrl+Enter with a value not entered yet: the value first, then the same key again.
function takeThenPassOn(grid, place, event) {
  event.preventDefault();
  event.stopPropagation();
  if (!take(grid, place)) return void stopAt(grid, place);
  const { key, code, keyCode, ctrlKey, altKey, metaKey, shiftKey } = event;
  const same = { key, code, keyCode, which: keyCode, ctrlKey, altKey, metaKey, shiftKey, bubbles: true, composed: true, cancelable: true };
  setTimeout(() => {
    place.input.dispatchEvent(new KeyboardEvent("keydown", same));
    place.input.dispatchEvent(new KeyboardEvent("keyup", same));
  }, HELD_MS);
}
