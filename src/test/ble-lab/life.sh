#!/bin/bash
# A link's life: life.sh {scale|stall|computer|sleep|connected|paired}...
# Each case is told when it begins and ends; the probe tells what it saw of it.
. src/test/ble-lab/common.sh

# through NAME BREAK... -- MEND...: breaks the link, waits until that is seen, mends it, waits again;
# MEND is true where the break mends itself, and tells so
through() {
  local name=$1 break=() lost back i service; shift
  while [ "$1" != -- ]; do break+=("$1"); shift; done; shift
  lost=$(said lost) back=$(said back) service=$(pgrep -x bluetoothd)
  tell "$name begins"; "${break[@]}"
  await lost $((lost + 1))
  sleep 2
  [ "$1" = true ] || { "$@"; tell "$name mended"; }
  await back $((back + 1))
  # Weights may have paused again meanwhile, on a machine that is short of time.
  for i in $(seq 60); do [ "$(said back)" -ge "$(said lost)" ] && break; sleep 1; done
  sleep 3
  [ "$name" = "Bluetooth service" ] || [ "$service" = "$(pgrep -x bluetoothd)" ] || never "$name without harm"
  tell "$name ends"
}
# listen: until the probe hears weights
listen() { start_scale "$@"; probe 900; await first 1; sleep 3; }

quit_scale() { kill $scale; }
restart_bluetooth() { start_bluetooth; end_scale; start_scale; }
# The end of a supervision timeout: the link's other end is silent, then the link ends for that reason.
walk_away() {
  kill -STOP $scale
  sleep 4
  local handle=$(hcitool -i hci1 con | sed -n "s/.*$HERE handle \([0-9]*\) .*/\1/p")
  hcitool -i hci1 cmd 0x01 0x0006 "$(printf %02x "$handle")" 00 08 > /dev/null
}
# Nothing gets through, in either direction, for longer than the program waits; then all of it at once.
stall() { kill -STOP $(pgrep -x btvirt); sleep 6; kill -CONT $(pgrep -x btvirt); tell "stall mended"; }
pull_radios() { kill $(pgrep -x btvirt); }
plug_radios() { btvirt -L -l2 >> "$LAB_LOG/btvirt.log" 2>&1 & switch_radios_on; end_scale; start_scale; }

# tell_sleep BOOLEAN: what the system's login service tells all programs before sleep and after it
tell_sleep() {
  dbus-send --system --type=signal /org/freedesktop/login1 \
    org.freedesktop.login1.Manager.PrepareForSleep "boolean:$1"
}
# The kernel prepares for sleep, its Bluetooth included, and stands still; then it wakes.
sleep_all() {
  tell_sleep true
  echo freezer > /sys/power/pm_test
  echo 5 > /sys/module/suspend/parameters/pm_test_delay
  echo freeze > /sys/power/state || never "sleep"
  tell "sleep of the whole system mended"
  tell_sleep false
}
# The program's side alone: its radio sleeps, its process stands still.
sleep_here() {
  mountpoint -q /sys/kernel/debug || mount -t debugfs debugfs /sys/kernel/debug
  tell_sleep true
  kill -STOP "$(cat "$LAB_LOG/probe.pid")"
  echo Y > /sys/kernel/debug/bluetooth/hci0/force_suspend || never "sleep"
  sleep 6
  echo N > /sys/kernel/debug/bluetooth/hci0/force_suspend
  kill -CONT "$(cat "$LAB_LOG/probe.pid")"
  tell "sleep of this computer mended"
  tell_sleep false
}

for case; do
  case $case in
    scale)
      listen
      through "scale off" kill -USR1 $scale -- kill -USR2 $scale
      through "silence" kill -STOP $scale -- kill -CONT $scale
      through "scale's program" quit_scale -- start_scale
      through "out of range" walk_away -- kill -CONT $scale
      # Last: virtual radios may report a connection to one that is just being switched off, and never end it.
      through "scale's radio" power hci1 false -- power hci1 true
      ;;
    stall)
      listen
      through "stall" stall -- true
      ;;
    computer)
      listen
      through "radio off" power hci0 false -- power hci0 true
      through "Bluetooth service" stop_bluetooth -- restart_bluetooth
      through "radio pulled" pull_radios -- plug_radios
      ;;
    sleep)
      listen
      through "sleep of the whole system" sleep_all -- true
      through "sleep of this computer" sleep_here -- true
      ;;
    connected)
      start_scale
      timeout 60 bluetoothctl --timeout 30 scan on > /dev/null &
      for i in $(seq 30); do timeout 20 bluetoothctl connect $SCALE | grep -q successful && break; sleep 1; done
      tell "connected already"
      probe 5
      await ended 1
      ;;
    paired)
      start_scale --encrypted
      probe 900
      for i in $(seq 600); do grep -q 'paired first' "$SAID" && break; sleep 0.1; done
      tell "pairing wanted"
      end_probe
      $PYTHON $LAB/pair.py hci0 $SCALE; tell "pair ended with $?"
      probe 900; await first 1; sleep 3
      through "paired scale off" kill -USR1 $scale -- kill -USR2 $scale
      ;;
  esac
  kill -0 "$(cat "$LAB_LOG/probe.pid")" 2> /dev/null && end_probe
  end_scale
done
