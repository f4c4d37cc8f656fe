// Shows the code to the program once and forgets it; from then on a cookie speaks for this device.

import { createSettings } from "/settings.js";
import { send } from "/stream.js";

createSettings();
const input = document.getElementById("code");
const said = document.getElementById("said");

async function pair() {
  const refusal = await send("pairing", { code: input.value });
  if (refusal) said.textContent = refusal;
  else location.replace("/");
}

document.getElementById("form").addEventListener("submit", (event) => {
  event.preventDefault();
  pair();
});

// A scanned code comes behind the #, which is sent to no server; it leaves the address at once.
if (location.hash.length > 1) {
  input.value = decodeURIComponent(location.hash.slice(1));
  history.replaceState(null, "", location.pathname);
  pair();
}
