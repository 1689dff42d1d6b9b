// A hand being typed: what was typed is sent after each pause, what it comes to is shown below and announced.
const PAUSE = 400; // milliseconds without a key
const FIELDS = ["section", "hand", "wording"];

function element(name, properties = {}, children = []) {
  const made = Object.assign(document.createElement(name), properties);
  made.append(...children);
  return made;
}

// The wording with every faulty word marked; at its end a mark of its own.
function marked(text, marks) {
  const pieces = [];
  let at = 0;
  for (const [start, end] of marks) {
    if (start < at) continue;
    pieces.push(text.slice(at, start), element("mark", { textContent: text.slice(start, end) || "\u2026" }));
    at = end;
  }
  return [...pieces, text.slice(at)];
}

// Python counts characters, JavaScript halves of some: cut the text in characters before counting.
function inUnits(text, marks) {
  const signs = [...text];
  const units = (count) => signs.slice(0, count).join("").length;
  return marks.map(([start, end]) => [units(start), units(end)]);
}

function group(one) {
  const picture = element("div");
  picture.innerHTML = one.svg; // drawn by ourselves
  return element("li", {}, [element("p", { textContent: one.name }), picture]);
}

function show(root, data) {
  root.querySelector(".message").textContent = data.message;
  root.querySelector(".marked").replaceChildren(...(data.marks.length ? marked(data.wording, inUnits(data.wording, data.marks)) : []));
  root.querySelector(".lines").replaceChildren(...data.lines.map((line) => element("li", { textContent: line })));
  root.querySelector(".groups").replaceChildren(...data.groups.map(group));
}

export default function ({ data, parentElement: root, setTriggerValue }) {
  const form = root.querySelector("form");
  const field = (name) => root.querySelector(`#${name}`);
  const values = () => Object.fromEntries(FIELDS.map((name) => [name, field(name).value]));
  const send = (what) => {
    clearTimeout(form.pause);
    form.pause = undefined;
    setTriggerValue(what, values());
  };
  form.hidden = false;
  for (const name of FIELDS) root.querySelector(`label[for=${name}]`).textContent = data.words[name];
  field("hint").textContent = data.words.hint;
  root.querySelector("button").textContent = data.words.put;
  field("sections").replaceChildren(...data.sections.map((value) => element("option", { value })));
  // Only another hand replaces what stands in the fields: an answer must never undo what was typed meanwhile.
  if (form.dataset.id !== data.id) {
    const first = form.dataset.id === undefined;
    form.dataset.id = data.id;
    for (const name of FIELDS) field(name).value = data[name];
    if (!first) field(data.hand ? "wording" : "hand").focus();
  }
  if (field("wording").value === data.wording && form.dataset.shown !== JSON.stringify([data.id, data.message, data.lines, data.groups])) {
    form.dataset.shown = JSON.stringify([data.id, data.message, data.lines, data.groups]);
    show(root, data);
  }
  form.oninput = () => {
    clearTimeout(form.pause);
    form.pause = setTimeout(() => send("typed"), PAUSE);
  };
  form.onfocusout = () => form.pause && send("typed");
  form.onsubmit = (event) => {
    event.preventDefault();
    send("put");
  };
  field("wording").onkeydown = (event) => {
    if (event.key !== "Enter" || event.isComposing) return;
    event.preventDefault();
    form.requestSubmit();
  };
}
