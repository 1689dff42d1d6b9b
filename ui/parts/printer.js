// Print a page of our own, not the app around it: it is put into a frame nobody sees.
export default function ({ data }) {
  if (globalThis.tilewitnessPrinted === data.id) return;
  globalThis.tilewitnessPrinted = data.id;
  const frame = document.createElement("iframe");
  frame.title = data.title;
  frame.ariaHidden = "true";
  frame.style.cssText = "position:fixed;width:0;height:0;border:0";
  frame.onload = () => {
    frame.contentWindow.onafterprint = () => frame.remove();
    frame.contentWindow.print();
  };
  frame.srcdoc = data.html;
  document.body.append(frame);
}
