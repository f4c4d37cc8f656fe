// Keys, and foot pedals, which send keys: page down and page up on most of them.

const KEYS = {
  v: "void",
  PageUp: "void",
  d: "drained",
  PageDown: "drained",
  t: "tare",
  e: "end",
  m: "mute",
  s: "settings",
  "+": "louder",
  "-": "softer",
};

export function listenKeys(actions, isBusy) {
  window.addEventListener("keydown", (event) => {
    const isTyping = event.target instanceof Element && event.target.closest("input, textarea, select");
    if (event.repeat || event.ctrlKey || event.metaKey || event.altKey || isTyping || isBusy()) return;
    const action = KEYS[event.key] || KEYS[event.key.toLowerCase()];
    if (action && actions[action]) {
      event.preventDefault();
      actions[action]();
    }
  });
}
