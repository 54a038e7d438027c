/* global document, window, getComputedStyle */
// Run inside the page by the browser; each function stands alone, for it is sent over as text.

export function unfoldAndMeasure() {
  for (const one of document.querySelectorAll("details")) one.open = true;
  const root = document.documentElement;
  return { scrolled: root.scrollWidth, visible: root.clientWidth };
}

export function measureLook() {
  const isShown = (one) => one.getClientRects().length > 0;
  const shown = (query) => [...document.querySelectorAll(query)].filter(isShown).length;
  const sizes = [...document.querySelectorAll("svg.picture text")].filter(isShown).map((one) => {
    const svg = one.ownerSVGElement;
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    return parseFloat(getComputedStyle(one).fontSize) * scale;
  });
  return {
    maxWidth: getComputedStyle(document.body).maxWidth,
    figures: document.querySelectorAll("figure").length,
    wide: shown("figure .wide"),
    narrow: shown("figure .narrow"),
    smallestText: Math.min(...sizes),
  };
}

export async function findSeriousFaults() {
  const { violations } = await window.axe.run({ resultTypes: ["violations"] });
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ""}`);
}

export function lookAtPrint() {
  const root = document.documentElement;
  const isShown = (one) => one.getClientRects().length > 0;
  return {
    heading: isShown(document.querySelector("h1")),
    contents: isShown(document.querySelector("nav")),
    pictures: [...document.querySelectorAll("figure .wide")].every(isShown),
    overflow: root.scrollWidth - root.clientWidth,
  };
}

export function readHostile() {
  return {
    ran: "ran" in window,
    scripts: document.querySelectorAll("script").length,
    images: document.querySelectorAll("img").length,
    text: document.body.innerText,
  };
}

export function whereIsFocus() {
  const one = document.activeElement;
  return { tag: one.tagName, outline: getComputedStyle(one).outlineStyle };
}

export const isUnfolded = () => document.querySelector("details.numbers").hasAttribute("open");

export function decodeClips() {
  const decoded = (one) =>
    new Promise((done, fail) => {
      one.addEventListener("canplaythrough", () => done(one.duration));
      one.addEventListener("error", () => fail(new Error(one.error?.message ?? "not decoded")));
      one.preload = "auto";
      one.load();
    });
  return Promise.all([...document.querySelectorAll("audio")].map(decoded));
}
