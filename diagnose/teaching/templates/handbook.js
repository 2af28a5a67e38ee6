"use strict";
// Search and filter. Without this script the page is whole: all of it shows, and the form that asks stays hidden.
(function () {
  const form = document.getElementById("find");
  const box = document.getElementById("word");
  const stage = document.getElementById("stage");
  const told = document.getElementById("told");
  const plain = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/[-/\s]+/g, " ");
  const things = Array.from(document.querySelectorAll("[data-kind]"), (item) => ({
    item: item,
    kind: item.dataset.kind,
    stages: item.dataset.stages ? item.dataset.stages.split(" ") : [],
    names: plain(item.dataset.find || item.textContent),
    text: "",
    card: document.getElementById("look-" + item.id),
  }));
  const groups = Array.from(document.querySelectorAll("[data-group]"));
  const holds = (text, words) => words.every((word) => text.includes(word));
  const counted = (count, one, many) => count + " " + (count === 1 ? one : many);

  function wanted(thing, words, whole) {
    if (stage.value && thing.kind !== "word" && !thing.stages.includes(stage.value)) return false;
    if (!words.length) return true;
    if (whole && !thing.text) thing.text = plain(thing.item.textContent);
    return holds(whole ? thing.text : thing.names, words);
  }

  function show(thing, shown) {
    thing.item.hidden = !shown;
    if (thing.card) thing.card.hidden = !shown;
  }

  function tidy() {
    for (const group of groups) {
      group.hidden = !group.querySelector("[data-kind]:not([hidden]), .card:not([hidden])");
    }
  }

  function look() {
    const words = plain(box.value).trim().split(" ").filter(Boolean);
    let found = things.filter((thing) => wanted(thing, words, false));
    const whole = words.length > 0 && !found.some((thing) => thing.kind !== "word");
    if (whole) found = things.filter((thing) => wanted(thing, words, true));
    const kept = new Set(found);
    for (const thing of things) show(thing, kept.has(thing));
    tidy();
    const signs = found.filter((thing) => thing.kind === "sign").length;
    const causes = found.filter((thing) => thing.kind === "cause").length;
    const asked = words.length > 0 || stage.value;
    const where = whole && found.length ? " No name holds it, so the whole text was searched." : "";
    const nothing = asked && !found.length ? " Try one word, or another name for it." : "";
    const says = counted(signs, "sign", "signs") + " and " + counted(causes, "cause", "causes");
    told.textContent = asked ? says + " shown." + where + nothing + " Printing prints what is shown." : "";
  }

  function reveal(name) {
    const target = name && document.getElementById(decodeURIComponent(name));
    const thing = target && things.find((one) => one.item === target || one.item.contains(target));
    if (thing && thing.item.hidden) {
      show(thing, true);
      tidy();
      return target;
    }
    return null;
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#']");
    if (link) reveal(link.getAttribute("href").slice(1));
  }, true);
  window.addEventListener("hashchange", () => {
    const target = reveal(location.hash.slice(1));
    if (target) target.scrollIntoView();
  });
  document.addEventListener("keydown", (event) => {
    const typing = /^(INPUT|SELECT|TEXTAREA)$/.test(event.target.tagName || "");
    if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      box.focus();
    }
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => setTimeout(look));
  box.addEventListener("input", look);
  stage.addEventListener("change", look);
  form.hidden = false;
  look();
})();
