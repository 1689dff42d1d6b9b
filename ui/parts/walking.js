// Rows of buttons walked by arrow keys, of which only one is a Tab stop. Put in front of the parts that have such rows.
const ARROWS = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] };

function element(name, properties = {}, children = []) {
  const made = Object.assign(document.createElement(name), properties);
  made.append(...children);
  return made;
}

function hidden(text) {
  return element("span", { className: "unseen", textContent: text });
}

// Where an arrow key leads in rows of unequal length; the start and end of a row are borders.
function walk(lengths, [row, column], key) {
  if (key === "Home") return [row, 0];
  if (key === "End") return [row, lengths[row] - 1];
  const [down, right] = ARROWS[key];
  const to = Math.min(lengths.length - 1, Math.max(0, row + down));
  return [to, Math.min(lengths[to] - 1, Math.max(0, column + right))];
}

// Arrow keys over rows of buttons. `onMove` hears of every step.
function makeWalkable(container, rows, start, onMove) {
  let at = start;
  const buttonAt = ([row, column]) => rows[row][column];
  const turnTo = (next) => {
    buttonAt(at).tabIndex = -1;
    at = next;
    buttonAt(at).tabIndex = 0;
    onMove(at);
  };
  rows.forEach((row, r) =>
    row.forEach((button, c) => {
      button.tabIndex = -1;
      button.onfocus = () => turnTo([r, c]);
    }),
  );
  if (rows.length) buttonAt(at).tabIndex = 0;
  container.onkeydown = (event) => {
    if (!(event.key in ARROWS) && event.key !== "Home" && event.key !== "End") return;
    event.preventDefault();
    buttonAt(walk(rows.map((row) => row.length), at, event.key)).focus();
  };
}

