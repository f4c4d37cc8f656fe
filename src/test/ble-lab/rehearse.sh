#!/bin/bash
# A whole rehearsal over Bluetooth, from the first pour to the lift, with the scale away in mid pour;
# then what was kept is analysed again. Writes live.json and again.json into the folder given.
. src/test/ble-lab/common.sh
out=$1
/usr/bin/python3 src/test/ble-lab/brewing_scale.py hci1 20 ${2:-} ${3:-} > "$LAB_LOG/brew.log" 2>&1 &
for i in $(seq 100); do grep -q ready "$LAB_LOG/brew.log" && break; sleep 0.1; done
java -XX:TieredStopAtLevel=1 -jar "${POURWRIGHT_JAR:-target/pourwright.jar}" rehearse \
  src/test/ble-lab/plan.yaml --scale "ble:$SCALE?profile=ble-text-stream" --data /run/brew --lines \
  --format json --no-page > "$out/live.json" 2> "$out/live.log"
echo "rehearse ended with $?"
cat "$LAB_LOG/brew.log"
find /run/brew/runs -type f | sort
stream=$(find /run/brew/runs -name '*.stream' | head -n 1)
cp "$stream" "$out/kept.stream"
java -XX:TieredStopAtLevel=1 -jar "${POURWRIGHT_JAR:-target/pourwright.jar}" analyse "$stream" \
  --plan src/test/ble-lab/plan.yaml --format json > "$out/again.json"
echo "analyse ended with $?"
grep -h 'link scale' /run/brew/logs/*.log
