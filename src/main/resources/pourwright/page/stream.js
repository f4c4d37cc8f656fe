// The live stream: comes back by itself after a reload, a closed lid or a lost program.

const FIRST_WAIT_MS = 250;
const LONGEST_WAIT_MS = 2000;
const SILENCE_MS = 4000;

export function listen(onMessage, onLink) {
  let wait = FIRST_WAIT_MS;
  let socket = null;
  let heardAt = 0;
  let isBusy = false; // between runs nothing needs to come

  function open() {
    socket = new WebSocket(`ws://${location.host}/api/v1/live`);
    heardAt = performance.now();
    socket.onopen = () => {
      wait = FIRST_WAIT_MS;
      onLink(true);
    };
    socket.onmessage = (event) => {
      heardAt = performance.now();
      let message;
      try {
        message = JSON.parse(event.data);
      } catch {
        return; // half a message is none; the next one says it all again
      }
      isBusy = message.type === "view" && message.phase !== "finished";
      onMessage(message);
    };
    socket.onclose = () => retry();
  }

  function retry() {
    onLink(false);
    socket = null;
    setTimeout(open, wait);
    wait = Math.min(LONGEST_WAIT_MS, wait * 2);
  }

  setInterval(() => {
    const silent = performance.now() - heardAt > SILENCE_MS;
    if (socket && isBusy && silent && socket.readyState === WebSocket.OPEN) socket.close();
  }, 1000);

  open();
}

// Sends to the program; gives the refusal in words, or null when it was taken.
export async function send(path, body) {
  try {
    const answer = await fetch(`/api/v1/${path}`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(body),
    });
    if (answer.ok) return null;
    const told = await answer.json().catch(() => ({}));
    return told.error || `The program refused (${answer.status}).`;
  } catch {
    return "The program does not answer. Its run goes on; try again in a moment.";
  }
}
