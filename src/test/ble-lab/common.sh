# What the scripts share. They run in the virtual machine of a Bluetooth lab, from the project's folder,
# with two virtual radios: hci0 for the program, hci1 for the scale.
SCALE=00:AA:01:01:00:01
STREAM=5ca1e000-1ab0-4b1e-9f00-00000000f00d
OUT=5ca1e001-1ab0-4b1e-9f00-00000000f00d
IN=5ca1e002-1ab0-4b1e-9f00-00000000f00d
CLASSES=${POURWRIGHT_CLASSES:-target/test-classes:target/pourwright.jar}
JAVA="java -XX:TieredStopAtLevel=1 -XX:+UseSerialGC"
PROGRAM=${POURWRIGHT:-$JAVA -jar target/pourwright.jar}
SAID=$LAB_LOG/probe.log

now() { cut -d' ' -f1 /proc/uptime; }
tell() { echo "$(now) event $*"; }

# probe SECONDS COMMAND...: listens in the background, each line with the time it was said
probe() {
  : > "$SAID"
  rm -f "$LAB_LOG/orders"; mkfifo "$LAB_LOG/orders"; exec 9<> "$LAB_LOG/orders"
  {
    $JAVA $PROBE_JAVA ${BACKEND:+-Dbackend=$BACKEND} \
      -Dlogback.configurationFile=src/test/ble-lab/logback.xml -cp "$CLASSES" \
      pourwright.device.ble.LinkProbe $SCALE $STREAM $OUT $IN "$@" < "$LAB_LOG/orders" &
    echo $! > "$LAB_LOG/probe.pid"
    wait $!
    echo "ended with $?"
  } | while read -r line; do echo "$(now) $line" | tee -a "$SAID"; done &
}
# order COMMAND: has the probe write it to the scale
order() { echo "$*" >&9; }
# end_probe: it says what it counted
end_probe() { kill "$(cat "$LAB_LOG/probe.pid")" 2> /dev/null; await ended 1 30; }

# await WORD COUNT [SECONDS]: until the probe said a line that begins so, that often
await() {
  local i
  for i in $(seq $((${3:-90} * 5))); do
    [ "$(grep -c "^[0-9.]* $1 " "$SAID")" -ge "$2" ] && return 0
    sleep 0.2
  done
  tell "never: $1 $2"
  return 1
}

power() {
  dbus-send --system --print-reply --dest=org.bluez "/org/bluez/$1" org.freedesktop.DBus.Properties.Set \
    string:org.bluez.Adapter1 string:Powered "variant:boolean:$2" > /dev/null
}

# start_scale: the lab's scale, anew
start_scale() {
  /usr/bin/python3 "$LAB_DIR/peripheral.py" $SCALE_ARGS > "$LAB_LOG/scale.log" 2>&1 &
  for i in $(seq 100); do grep -q '^ready' "$LAB_LOG/scale.log" && return; sleep 0.2; done
  tell "the scale did not start"
}
scale_program() { pgrep -f "$LAB_DIR/peripheral.py"; }

# start_bluetooth: the system's service, anew; both radios are switched on
start_bluetooth() {
  "$(command -v bluetoothd || echo /usr/libexec/bluetooth/bluetoothd)" -n > "$LAB_LOG/anew.log" 2>&1 &
  for i in $(seq 50); do power hci1 true 2> /dev/null && power hci0 true 2> /dev/null && return; sleep 0.2; done
  tell "the Bluetooth service did not start"
}

# one_bearer: radios agree on one way for values, as those of scales do; with several, as BlueZ uses
# between two of its own, values may overtake each other on the air
one_bearer() {
  sed -i 's/^#* *Channels *=.*/Channels = 1/' /etc/bluetooth/main.conf
  kill $(scale_program) $(pgrep bluetoothd)
  sleep 1
  start_bluetooth
}
