// Choosing a page leaves the keyboard on the link and tells a screen reader nothing: go to the new heading. A button
// that goes away when it is pressed leaves the keyboard nowhere: go to what took its place.
const PAUSE = 100; // milliseconds between looks
const LONGEST = 50; // looks: a busy computer draws the page late, and may draw its heading twice
const SETTLED = 3; // looks in a row that find the keyboard where it should be

const onALink = () => document.activeElement?.closest("a") !== null;

// In a narrow window the list of pages lies over the page that was chosen from it.
function closeList() {
  const list = document.querySelector('[data-testid="stSidebar"]');
  if (list?.getBoundingClientRect().width > window.innerWidth / 3) {
    document.querySelector('[data-testid="stSidebarCollapseButton"] button')?.click();
  }
}

// Bring the keyboard to what `find` finds, unless a person has put it somewhere else meanwhile.
function bring(find, looks = LONGEST, settled = 0) {
  const goal = find();
  const there = goal !== null && document.activeElement === goal;
  if (!there && goal !== null && (document.activeElement === document.body || onALink())) {
    if (/^H[1-6]$/.test(goal.tagName)) goal.tabIndex = -1;
    goal.focus();
  }
  if (looks > 0 && settled < SETTLED) setTimeout(() => bring(find, looks - 1, there ? settled + 1 : 0), PAUSE);
}

function heading(page) {
  const first = document.querySelector("h1");
  return first?.textContent.includes(page) ? first : null;
}

export default function ({ data }) {
  const before = globalThis.tilewitnessPage;
  globalThis.tilewitnessPage = data.page;
  if (data.goal && data.goal.number !== globalThis.tilewitnessGoal) {
    globalThis.tilewitnessGoal = data.goal.number;
    bring(() => document.querySelector(`.st-key-${data.goal.key} :is(button, input:checked, h2)`));
  }
  // Whoever opens the app is left alone; but a quick person chooses a page before the first one has said its name.
  if (before === data.page || (before === undefined && !onALink())) return;
  globalThis.speechSynthesis?.cancel();
  closeList();
  bring(() => heading(data.page));
}
