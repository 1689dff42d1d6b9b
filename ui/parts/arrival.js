// Choosing a page leaves the keyboard on the link and tells a screen reader nothing: go to the new heading.
const PAUSE = 100; // milliseconds between looks
const LONGEST = 50; // looks: a busy computer draws the page late, and may draw its heading twice
const SETTLED = 3; // looks in a row that find the keyboard on the heading

const onALink = () => document.activeElement?.closest("a") !== null;

// In a narrow window the list of pages lies over the page that was chosen from it.
function closeList() {
  const list = document.querySelector('[data-testid="stSidebar"]');
  if (list?.getBoundingClientRect().width > window.innerWidth / 3) {
    document.querySelector('[data-testid="stSidebarCollapseButton"] button')?.click();
  }
}

export default function ({ data }) {
  const before = globalThis.tilewitnessPage;
  globalThis.tilewitnessPage = data.page;
  // Whoever opens the app is left alone; but a quick person chooses a page before the first one has said its name.
  if (before === data.page || (before === undefined && !onALink())) return;
  globalThis.speechSynthesis?.cancel();
  closeList();
  const arrive = (looks, settled) => {
    const heading = document.querySelector("h1");
    const there = heading !== null && document.activeElement === heading;
    if (!there && heading?.textContent.includes(data.page) && (document.activeElement === document.body || onALink())) {
      heading.tabIndex = -1;
      heading.focus();
    }
    if (looks > 0 && settled < SETTLED) setTimeout(() => arrive(looks - 1, there ? settled + 1 : 0), PAUSE);
  };
  arrive(LONGEST, 0);
}
