// The answer, large and first. Its live region stays in place so that screen readers announce each change.
const RATES = [0.5, 0.65, 0.8, 1, 1.25, 1.5];

function paragraphs(lines) {
  return lines.map((line) => {
    const paragraph = document.createElement("p");
    paragraph.textContent = line;
    return paragraph;
  });
}

// A new photo may have been chosen far down the page, and a large answer may be higher than the window.
function showFromItsTop(section) {
  const { top, bottom } = section.querySelector(".words").getBoundingClientRect();
  if (top < 0 || bottom > window.innerHeight) section.scrollIntoView({ block: "start" });
}

// Writing the same words again would announce them again.
function show(root, data) {
  const section = root.querySelector(".answer");
  section.hidden = false;
  if (section.dataset.id === data.id) return;
  section.dataset.id = data.id;
  section.dataset.tone = data.tone;
  root.querySelector(".sign").textContent = data.sign;
  root.querySelector(".title").textContent = data.title;
  root.querySelector(".lead").replaceChildren(...paragraphs(data.lead));
  root.querySelector(".details").replaceChildren(...paragraphs(data.details));
  root.querySelector(".note").textContent = data.note;
  if (section.dataset.photo !== data.photo) requestAnimationFrame(() => showFromItsTop(section));
  section.dataset.photo = data.photo;
}

function changeRate(step, setStateValue) {
  const now = RATES.findIndex((rate) => rate >= speaker.rate);
  speaker.rate = RATES[Math.min(RATES.length - 1, Math.max(0, now + step))];
  setStateValue("rate", speaker.rate);
}

// The chooser stands far below the answer; pressing this button is pressing that one.
function askForAnother() {
  const chooser = document.querySelector('[data-testid="stFileUploaderDropzoneInput"]');
  chooser?.click();
}

export default function ({ data, parentElement: root, setStateValue }) {
  show(root, data);
  const words = data.speech.words;
  const trouble = root.querySelector(".trouble");
  const steer = (steered) => {
    for (const name of ["slower", "faster", "stop"]) root.querySelector(`.${name}`).hidden = !steered;
  };
  const speak = (sentences) => {
    trouble.textContent = "";
    steer(true);
    speaker.say(sentences);
  };
  speaker.rate = data.speech.rate;
  speaker.onTrouble = (error) => {
    trouble.textContent = error === "not-allowed" ? words.notAllowed : words.noVoice;
  };
  const another = root.querySelector(".another");
  another.textContent = data.another;
  another.hidden = !data.another;
  another.onclick = askForAnother;
  steer(data.speech.steered || data.speech.byItself || !root.querySelector(".stop").hidden);
  root.querySelector(".speech").setAttribute("aria-label", words.controls);
  const buttons = {
    again: () => speak(data.speech.full),
    slower: () => {
      changeRate(-1, setStateValue);
      speak(data.speech.full);
    },
    faster: () => {
      changeRate(1, setStateValue);
      speak(data.speech.full);
    },
    stop: () => speaker.stop(),
  };
  for (const [name, act] of Object.entries(buttons)) {
    const button = root.querySelector(`.${name}`);
    button.textContent = words[name];
    button.onclick = act;
  }
  if (data.speech.byItself) speaker.sayOnce(data.id, data.speech.news);
}
