// What is to be done next. Its heading is a live region: another task is announced.
export default function ({ data, parentElement: root }) {
  const section = root.querySelector(".task");
  const say = section.querySelector(".say");
  say.textContent = data.say;
  say.onclick = () => speaker.say(data.spoken);
  if (section.dataset.id === data.id) return;
  section.dataset.id = data.id;
  section.querySelector("h2").textContent = data.title;
  section.querySelector(".lines").replaceChildren(
    ...data.lines.map((line) => Object.assign(document.createElement("p"), { textContent: line })),
  );
  if (data.speaks) speaker.sayOnce(data.id, data.spoken);
}
