// The tiles as read, one button each: arrow keys walk, Enter corrects. Only one of them is a Tab stop.
function tileButton(tile) {
  const picture = tile.image
    ? element("img", { src: tile.image, alt: "" })
    : element("span", { className: "blank", ariaHidden: "true" });
  const button = element("button", { type: "button", className: "tile" }, [
    element("span", { className: "place" }, [hidden("Place "), String(tile.place), hidden(", ")]),
    picture,
    element("span", { className: "name", textContent: tile.name }),
  ]);
  if (tile.remark) button.append(element("span", { className: "remark", textContent: tile.remark }));
  button.dataset.state = tile.state;
  return button;
}

function drawGrid(root, data, state, open) {
  const grid = root.querySelector(".grid");
  const hadFocus = grid.contains(root.activeElement ?? document.activeElement);
  const rows = data.rows.map((row) => row.tiles.map(tileButton));
  grid.replaceChildren(
    ...rows.map((buttons, r) => {
      const cells = buttons.map((button) => {
        const cell = element("div", {}, [button]);
        cell.setAttribute("role", "gridcell");
        return cell;
      });
      if (rows.length > 1) {
        const name = element("div", { className: "row-name", textContent: data.rows[r].name });
        name.setAttribute("role", "rowheader");
        cells.unshift(name);
      }
      const line = element("div", { className: "row" }, cells);
      line.setAttribute("role", "row");
      line.setAttribute("aria-label", data.rows[r].name);
      return line;
    }),
  );
  const fits = ([row, column]) => row < rows.length && column < rows[row].length;
  if (!fits(state.at)) state.at = [0, 0];
  let quiet = true; // putting the focus back after a change is no step
  makeWalkable(grid, rows, state.at, (at) => {
    state.at = at;
    if (!quiet && !state.asking && data.speaks) speaker.say([data.rows[at[0]].tiles[at[1]].spoken]);
  });
  rows.forEach((row, r) => row.forEach((button, c) => (button.onclick = () => open(data.rows[r].tiles[c]))));
  if (hadFocus && rows.length) rows[state.at[0]][state.at[1]].focus();
  quiet = false;
}

// Ask for a face: the likely ones first, then the whole set, suit by suit.
function openDialog(root, data, state, tile, send) {
  const dialog = root.querySelector("dialog");
  root.querySelector("#question").textContent = tile.question;
  root.querySelector(".closer").replaceChildren(
    ...(tile.image ? [element("img", { src: tile.image, alt: data.words.closer })] : []),
  );
  const groups = [{ name: data.words.likely, faces: tile.likely }, ...data.faces].filter((g) => g.faces.length);
  const choose = (face) => {
    dialog.close();
    send({ tile: tile.key, row: tile.row, face });
  };
  const rows = groups.map((group) =>
    group.faces.map((face) => {
      const button = element("button", { type: "button", textContent: face.short });
      if (face.short !== face.name) button.ariaLabel = face.name;
      button.onclick = () => choose(face.name);
      return button;
    }),
  );
  const boxes = groups.map((group, g) => {
    const box = element("div", { className: "choice" }, [
      element("span", { className: "family", textContent: group.name, ariaHidden: "true" }),
      ...rows[g],
    ]);
    box.setAttribute("role", "group");
    box.setAttribute("aria-label", group.name);
    return box;
  });
  const choices = root.querySelector(".choices");
  choices.replaceChildren(...boxes);
  makeWalkable(choices, rows, [0, 0], () => {});
  const remove = root.querySelector(".remove");
  remove.hidden = tile.key === null;
  remove.onclick = () => choose(null);
  root.querySelector(".cancel").onclick = () => dialog.close();
  state.asking = true; // the focus comes back to the tile when the dialogue closes; that is no step either
  dialog.onclose = () => (state.asking = false);
  dialog.showModal();
  rows[0][0].focus();
  if (data.speaks) speaker.say([tile.question]);
}

function answerPlace(root, data, event) {
  event.preventDefault();
  const wanted = Number(root.querySelector("#place").value);
  const row = data.rows.length > 1 ? Number(root.querySelector("#row").value) : 1;
  const tile = data.rows[row - 1]?.tiles.find((one) => one.place === wanted);
  const text = tile ? tile.spoken : data.words.noSuchPlace;
  root.querySelector("output").textContent = text;
  if (data.speaks) speaker.say([text]);
}

export default function ({ data, parentElement: root, setTriggerValue }) {
  const section = root.querySelector(".tiles");
  const state = (section.state ??= { at: [0, 0] });
  section.hidden = false;
  root.querySelector("#heading").textContent = data.words.heading;
  root.querySelector("#hint").textContent = data.words.hint;
  root.querySelector(".row-choice").hidden = data.rows.length < 2;
  root.querySelector(".row-choice label").textContent = data.words.askRow;
  root.querySelector("#row").max = data.rows.length;
  root.querySelector(".ask-place").textContent = data.words.ask;
  root.querySelector("form button").textContent = data.words.tell;
  root.querySelector(".remove").textContent = data.words.remove;
  root.querySelector(".cancel").textContent = data.words.cancel;
  root.querySelector("#place").max = Math.max(...data.rows.map((row) => row.tiles.length));
  root.querySelector("form").hidden = !data.speaks; // whoever sees the tiles sees their places
  root.querySelector("form").onsubmit = (event) => answerPlace(root, data, event);
  const open = (tile) => openDialog(root, data, state, tile, (change) => setTriggerValue("corrected", change));
  drawGrid(root, data, state, open);
  const add = root.querySelector(".add");
  add.textContent = data.words.add;
  add.hidden = !data.words.add;
  add.onclick = () => open({ key: null, row: state.at[0], question: data.words.add, likely: [] });
}
