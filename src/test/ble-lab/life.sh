#!/bin/bash
# A link's life. Each case is told when it begins and ends; the probe tells what it saw of it.
. src/test/ble-lab/common.sh
cases=0
# through NAME BREAK... -- MEND...: breaks the link, waits until that is seen, mends it, waits again
through() {
  local name=$1 break=() ; shift
  while [ "$1" != -- ]; do break+=("$1"); shift; done; shift
  cases=$((cases + 1))
  tell "$name begins"; "${break[@]}"
  await lost $cases
  sleep 2
  tell "$name ends"; "$@"
  await back $cases
  sleep 3
}
quit_scale() { kill $(scale_program); }
freeze() { kill -STOP $(scale_program); }
thaw() { kill -CONT $(scale_program); }
stop_bluetooth() { kill $(pgrep bluetoothd); }
restart_all() { start_bluetooth; kill $(scale_program); start_scale; }

probe 900 "rate 20"
await first 1 || exit 1
sleep 3
# Counted from here: a slow start may have been told as a loss before the first weight.
cases=$(grep -c '^[0-9.]* lost ' "$SAID")
through "scale off" order away 5 -- true
through "silence" freeze -- thaw
through "scale's program" quit_scale -- start_scale
through "radio off" power hci0 false -- power hci0 true
through "Bluetooth service" stop_bluetooth -- restart_all
# Last: virtual radios may report a connection to one that is just being switched off, and never end it.
through "scale's radio" power hci1 false -- power hci1 true
end_probe

# Connected before the program starts, by someone else.
timeout 20 bluetoothctl connect $SCALE > /dev/null
tell "connected already"
probe 5
await ended 1
