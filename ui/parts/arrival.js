// Choosing a page leaves the keyboard on the link and tells a screen reader nothing: go to the new heading.
export default function ({ data }) {
  const before = globalThis.tilewitnessPage;
  globalThis.tilewitnessPage = data.page;
  if (before === undefined || before === data.page) return;
  globalThis.speechSynthesis?.cancel();
  const arrive = (tries) => {
    const heading = document.querySelector("h1");
    if (heading?.textContent.includes(data.page)) {
      heading.tabIndex = -1;
      heading.focus();
    } else if (tries > 0) {
      setTimeout(() => arrive(tries - 1), 100);
    }
  };
  arrive(30);
}
