// What this screen remembers: sound, light, and how large things must be to be read from afar.

const CARD_MM = 85.6; // ISO/IEC 7810 ID-1, width
const CSS_PX_PER_MM = 96 / 25.4;
const KEY = "pourwright";

function usualDistance() {
  if (window.innerWidth < 600) return 0.8;
  return window.innerWidth < 1100 ? 1.4 : 2;
}

const USUAL = {
  volume: 70,
  muted: false,
  glide: false,
  speech: false,
  theme: "auto",
  distance: null,
  pxPerMm: CSS_PX_PER_MM,
};

export function createSettings() {
  let kept = {};
  try {
    kept = JSON.parse(localStorage.getItem(KEY)) || {};
  } catch {
    kept = {}; // a private window remembers nothing
  }
  const values = { ...USUAL, ...kept };
  const listeners = [];
  const night = matchMedia("(prefers-color-scheme: dark)");

  function apply() {
    const style = document.documentElement.style;
    const isDark = values.theme === "dark" || (values.theme === "auto" && night.matches);
    document.documentElement.dataset.theme = isDark ? "dark" : "light";
    style.setProperty("--px-per-mm", values.pxPerMm);
    style.setProperty("--distance-m", values.distance ?? usualDistance());
    listeners.forEach((listener) => listener());
  }

  night.addEventListener("change", apply);
  window.addEventListener("resize", apply);
  apply();

  return {
    get: (name) => values[name],
    set(name, value) {
      values[name] = value;
      try {
        localStorage.setItem(KEY, JSON.stringify(values));
      } catch {
        // kept for as long as the page is open
      }
      apply();
    },
    onChange: (listener) => listeners.push(listener),
  };
}

export function wireDialog(settings, sound) {
  const id = (name) => document.getElementById(name);
  const dialog = id("settings");
  const bind = (name, element, read, show) => {
    show(element, settings.get(name));
    element.addEventListener("input", () => {
      const value = read(element);
      if (value !== undefined) settings.set(name, value);
    });
  };
  const number = (element) => (element.validity.valid && element.value !== "" ? Number(element.value) : undefined);
  const put = (element, value) => {
    element.value = value;
  };
  const tick = (element, value) => {
    element.checked = value;
  };
  bind("volume", id("volume"), number, put);
  bind("glide", id("glide"), (box) => box.checked, tick);
  bind("speech", id("speech"), (box) => box.checked, tick);
  bind("theme", id("theme"), (list) => list.value, put);
  bind("distance", id("distance"), number, (element, value) => put(element, value ?? usualDistance()));
  const ruler = () => {
    id("ruler").style.width = `${settings.get("pxPerMm") * CARD_MM}px`;
  };
  bind("pxPerMm", id("ruler-length"), (bar) => Number(bar.value) / CARD_MM, (bar, value) => put(bar, value * CARD_MM));
  id("ruler-length").addEventListener("input", ruler);
  ruler();

  sound.ready.then(() => {
    for (const signal of sound.kinds()) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = signal.word;
      button.addEventListener("click", () => {
        sound.wake();
        sound.play(signal.kind, signal.word);
      });
      id("sound-check").append(button);
    }
  });

  async function showPairing() {
    const answer = await fetch("/api/v1/pairing").catch(() => null);
    const told = answer && answer.ok ? await answer.json() : { open: false };
    id("pairing").hidden = !told.open;
    if (told.open) {
      id("pairing-code").textContent = told.code;
      id("pairing-address").textContent = `${told.addresses[0]}pair`;
      id("pairing-picture").src = `/api/v1/pairing.svg?${Date.now()}`;
    }
  }

  return {
    open() {
      showPairing();
      dialog.showModal();
    },
    isOpen: () => dialog.open,
  };
}
