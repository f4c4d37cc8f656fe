# What the scripts share. They run in the virtual machine of a Bluetooth lab, from the project's folder,
# with two virtual radios: hci0 for the program, hci1 for the scale.
SCALE=00:AA:01:01:00:01
HERE=00:AA:01:00:00:00
SERVICE=5ca1e000-1ab0-4b1e-9f00-00000000f00d
WEIGHT=5ca1e001-1ab0-4b1e-9f00-00000000f00d
CLASSES=${POURWRIGHT_CLASSES:-target/test-classes:target/pourwright.jar}
JAVA="java -XX:TieredStopAtLevel=1 -XX:+UseSerialGC"
PROGRAM=${POURWRIGHT:-$JAVA -jar target/pourwright.jar}
PYTHON=/usr/bin/python3
LAB=src/test/ble-lab
SAID=$LAB_LOG/probe.log

# Seconds of the same clock as the probe's
now() { cut -d' ' -f1 /proc/uptime; }
tell() { echo "event $(now) $*"; }
never() { tell "never: $*"; exit 1; }

# probe SECONDS: listens in the background for so long after the first weight
probe() {
  : > "$SAID"
  {
    $JAVA ${BACKEND:+-Dbackend=$BACKEND} -Dlogback.configurationFile=$LAB/logback.xml -cp "$CLASSES" \
      pourwright.device.ble.LinkProbe hci0 $SCALE $SERVICE $WEIGHT "$1" &
    echo $! > "$LAB_LOG/probe.pid"
    wait $!
    echo "ended with $?"
  } 2>&1 | tee -a "$SAID" &
}
# end_probe: it says what it counted
end_probe() { kill "$(cat "$LAB_LOG/probe.pid")" 2> /dev/null; await ended 1 30; }

# said WORD: how many lines of the probe begin so
said() { grep -c "^$1 " "$SAID"; }
# await WORD COUNT [SECONDS]: until the probe said a line that begins so, that often
await() {
  local i
  for i in $(seq $((${3:-90} * 10))); do
    [ "$(said "$1")" -ge "$2" ] && return 0
    sleep 0.1
  done
  never "$1 $2"
}

power() {
  dbus-send --system --print-reply --dest=org.bluez "/org/bluez/$1" org.freedesktop.DBus.Properties.Set \
    string:org.bluez.Adapter1 string:Powered "variant:boolean:$2" > /dev/null
}
switch_radios_on() {
  for i in $(seq 100); do power hci1 true 2> /dev/null && power hci0 true 2> /dev/null && return; sleep 0.2; done
  never "radios on"
}

# start_scale OPTION...: anew; it stays as it is until the next
start_scale() {
  $PYTHON $LAB/scale.py "$@" > "$LAB_LOG/scale.log" 2>&1 &
  scale=$!
  for i in $(seq 300); do grep -q '^ready' "$LAB_LOG/scale.log" && return; sleep 0.1; done
  cat "$LAB_LOG/scale.log"; never "the scale"
}
end_scale() { kill -CONT $scale; kill $scale; wait $scale 2> /dev/null; return 0; }

start_bluetooth() {
  "$(command -v bluetoothd || echo /usr/libexec/bluetooth/bluetoothd)" -n >> "$LAB_LOG/anew.log" 2>&1 &
  switch_radios_on
}
stop_bluetooth() { kill $(pgrep -x bluetoothd); }

# Radios agree on one way for values, as those of scales do; with several, as BlueZ uses between two of
# its own, values may overtake each other on the air.
sed -i 's/^#* *Channels *=.*/Channels = 1/' /etc/bluetooth/main.conf
stop_bluetooth
sleep 1
start_bluetooth
