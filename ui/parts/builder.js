// A rack built of drawn tiles: a palette puts tiles in, keys and buttons move and remove them. Every change is
// written into a live region, spoken if wanted, and told to the page, which keeps the rack.
function fill(template, values) {
  return template.replace(/\{(\w+)\}/g, (_, name) => values[name]);
}

function drawn(name) {
  const picture = element("span", { className: "picture", ariaHidden: "true" });
  picture.innerHTML = DRAWN[name];
  return picture;
}

class Builder {
  constructor(root) {
    this.root = root;
    this.rack = [];
    this.chosen = null; // place of the tile behind which new ones go
    this.at = [0, 0]; // where the arrow keys stand
    this.paletteAt = [0, 0];
  }

  // What the page knows better than this part: another exercise, tiles that were typed.
  update(data, send) {
    this.data = data;
    this.words = data.words;
    this.send = send;
    if (this.version !== data.version) {
      this.version = data.version;
      this.rack = [...data.rack];
      this.chosen = null;
    }
    this.label();
    this.draw();
    if (data.news.text && this.newsId !== data.news.id) this.announce(data.news.text);
    this.newsId = data.news.id;
  }

  find(selector) {
    return this.root.querySelector(selector);
  }

  label() {
    const texts = { "#heading": "heading", "#hint": "hint", ".nothing": "nothing", "#palette-heading": "palette", "#palette-hint": "paletteHint" };
    for (const [selector, word] of Object.entries(texts)) this.find(selector).textContent = this.words[word];
    this.find(".tools").setAttribute("aria-label", this.words.tools);
    const actions = {
      left: () => this.move(this.chosen, -1),
      right: () => this.move(this.chosen, 1),
      remove: () => this.remove(this.chosen),
      empty: () => this.empty(),
      tell: () => this.announce(this.told().join(" ")),
    };
    for (const [name, act] of Object.entries(actions)) {
      const button = this.find(`.${name}`);
      button.textContent = this.words[name];
      button.onclick = () => (button.ariaDisabled === "true" ? this.announce(this.words.chooseFirst) : act());
    }
    if (!this.find(".palette").hasChildNodes()) this.drawPalette();
  }

  draw() {
    const grid = this.find(".grid");
    const active = this.root.activeElement ?? document.activeElement;
    const hadFocus = grid.contains(active);
    const buttons = this.rack.map((name, place) => this.tileButton(name, place));
    const cells = buttons.map((button) => {
      const cell = element("div", {}, [button]);
      cell.setAttribute("role", "gridcell");
      return cell;
    });
    const row = element("div", { className: "row" }, cells);
    row.setAttribute("role", "row");
    grid.hidden = !buttons.length;
    grid.replaceChildren(...(buttons.length ? [row] : []));
    this.find(".nothing").hidden = buttons.length > 0;
    this.find(".count").textContent = fill(this.words.count, { count: this.amount() });
    for (const name of ["left", "right", "remove"]) this.find(`.${name}`).ariaDisabled = String(this.chosen === null);
    this.at = [0, Math.max(0, Math.min(this.at[1], buttons.length - 1))];
    makeWalkable(grid, buttons.length ? [buttons] : [], this.at, (at) => this.stepped(at));
    if (hadFocus) this.focusOn(this.at[1]);
  }

  // Putting the focus back after a change is no step.
  focusOn(place) {
    this.quiet = true;
    if (this.rack.length) this.find(".grid").querySelectorAll("button")[place].focus();
    else this.find(".palette button[tabindex='0']").focus();
    this.quiet = false;
  }

  stepped(at) {
    this.at = at;
    if (!this.quiet && this.data.speaks) speaker.say([this.placed(at[1])]);
  }

  tileButton(name, place) {
    const button = element("button", { type: "button", className: "tile" }, [
      element("span", { className: "place" }, [hidden(`${this.words.place} `), String(place + 1), hidden(", ")]),
      drawn(name),
      element("span", { className: "name", textContent: name }),
    ]);
    button.ariaPressed = String(place === this.chosen);
    button.onclick = () => this.choose(place);
    button.onkeydown = (event) => {
      const act = {
        Delete: () => this.remove(place),
        Backspace: () => this.remove(place),
        ArrowLeft: event.shiftKey && (() => this.move(place, -1)),
        ArrowRight: event.shiftKey && (() => this.move(place, 1)),
      }[event.key];
      if (!act) return;
      event.preventDefault();
      event.stopPropagation();
      act();
    };
    return button;
  }

  drawPalette() {
    const rows = this.data.families.map((family) =>
      family.faces.map((face) => {
        const button = element("button", { type: "button", ariaLabel: face.name, title: face.name }, [drawn(face.name)]);
        button.onclick = () => this.add(face, 1);
        button.addEventListener("keydown", (event) => {
          if (!(event.key in face.several)) return;
          event.preventDefault();
          this.add(face, Number(event.key));
        });
        return button;
      }),
    );
    const families = this.data.families.map((family, f) => {
      const box = element("div", { className: "family" }, [
        element("span", { className: "called", textContent: family.name, ariaHidden: "true" }),
        ...rows[f],
      ]);
      box.setAttribute("role", "group");
      box.setAttribute("aria-label", family.name);
      return box;
    });
    const palette = this.find(".palette");
    palette.replaceChildren(...families);
    const spoken = ([row, column]) => this.data.families[row].faces[column].name;
    makeWalkable(palette, rows, [0, 0], (at) => {
      if (!this.quiet && this.data.speaks) speaker.say([spoken(at)]);
    });
  }

  // Changes.

  add(face, many) {
    if (this.rack.length + many >= this.data.amounts.length) return this.announce(this.words.full);
    const from = this.chosen === null ? this.rack.length : this.chosen + 1;
    this.rack.splice(from, 0, ...Array(many).fill(face.name));
    if (this.chosen !== null) this.chosen = from + many - 1;
    this.at = [0, from + many - 1];
    const places = many === 1 ? this.words.atPlace : this.words.atPlaces;
    this.changed(this.words.added, { tiles: face.several[many], where: fill(places, { from: from + 1, to: from + many }) });
  }

  choose(place) {
    this.chosen = place === this.chosen ? null : place;
    this.draw();
    this.announce(fill(this.chosen === null ? this.words.letGo : this.words.chosen, { tile: this.placed(place) }));
  }

  move(place, by) {
    const to = place + by;
    if (to < 0 || to >= this.rack.length) return this.announce(this.words.atEnd);
    const [name] = this.rack.splice(place, 1);
    this.rack.splice(to, 0, name);
    if (this.chosen === place) this.chosen = to;
    else if (this.chosen === to) this.chosen = place;
    this.at = [0, to];
    this.changed(this.words.moved, { tile: name, place: to + 1 });
  }

  remove(place) {
    const [name] = this.rack.splice(place, 1);
    if (this.chosen === place) this.chosen = null;
    else if (this.chosen > place) this.chosen -= 1;
    this.at = [0, Math.min(place, this.rack.length - 1)];
    this.changed(this.words.removed, { tile: name, place: place + 1 });
  }

  empty() {
    this.rack = [];
    this.chosen = null;
    this.changed(this.words.emptied, {});
  }

  changed(template, values) {
    this.draw();
    this.announce(fill(template, { ...values, count: this.amount() }));
    this.send({ version: this.version, tiles: [...this.rack] });
  }

  // Words.

  amount() {
    return this.data.amounts[this.rack.length];
  }

  placed(place) {
    return fill(this.words.placed, { place: place + 1, tile: this.rack[place] });
  }

  told() {
    return this.rack.length ? [fill(this.words.count, { count: this.amount() }), ...this.rack.map((_, place) => this.placed(place))] : [this.words.nothing];
  }

  announce(text) {
    this.find(".news").replaceChildren(element("span", { textContent: text })); // the same words again are news again
    if (this.data.speaks) speaker.say([text]);
  }
}

export default function ({ data, parentElement: root, setStateValue }) {
  const section = root.querySelector(".builder");
  section.hidden = false;
  section.builder ??= new Builder(root);
  section.builder.update(data, (rack) => setStateValue("rack", rack));
}
