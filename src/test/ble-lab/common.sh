# What the scripts share. They run in the virtual machine of a Bluetooth lab, from the project's folder,
# with two virtual radios: hci0 for the program, hci1 for the scale.
SCALE=00:AA:01:01:00:01
STREAM=5ca1e000-1ab0-4b1e-9f00-00000000f00d
OUT=5ca1e001-1ab0-4b1e-9f00-00000000f00d
IN=5ca1e002-1ab0-4b1e-9f00-00000000f00d
CLASSES=${POURWRIGHT_CLASSES:-target/test-classes:target/pourwright.jar}

now() { cut -d' ' -f1 /proc/uptime; }
tell() { echo "$(now) event $*"; }
# probe SECONDS COMMAND...: listens, each line with the time it was said
probe() {
  java -XX:TieredStopAtLevel=1 -XX:+UseSerialGC $PROBE_JAVA ${BACKEND:+-Dbackend=$BACKEND} \
    -Dlogback.configurationFile=src/test/ble-lab/logback.xml -cp "$CLASSES" \
    pourwright.device.ble.LinkProbe $SCALE $STREAM $OUT $IN "$@" |
    while read -r line; do echo "$(now) $line"; done
}
power() {
  dbus-send --system --print-reply --dest=org.bluez "/org/bluez/$1" org.freedesktop.DBus.Properties.Set \
    string:org.bluez.Adapter1 string:Powered "variant:boolean:$2" > /dev/null
}
# pause_until_weighing: until the scale heard the probe's first command
pause_until_weighing() {
  local i
  for i in $(seq 600); do grep -q '^command' "$LAB_LOG/peripheral.log" && return; sleep 0.1; done
  echo "the probe never weighed"; exit 1
}
