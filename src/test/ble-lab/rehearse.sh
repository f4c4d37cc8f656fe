#!/bin/bash
# A whole rehearsal over Bluetooth, from the first pour to the lift, with the scale away in mid pour;
# then what was kept is analysed again: rehearse.sh FOLDER [AWAY_AT AWAY_FOR]
# Writes live.json, again.json and kept.stream into FOLDER.
. src/test/ble-lab/common.sh
out=$1
one_bearer
/usr/bin/python3 src/test/ble-lab/brewing_scale.py hci1 10 ${2:-} ${3:-} > "$LAB_LOG/brew.log" 2>&1 &
for i in $(seq 100); do grep -q ready "$LAB_LOG/brew.log" && break; sleep 0.2; done
$PROGRAM rehearse src/test/ble-lab/plan.yaml --scale "ble:$SCALE?profile=ble-text-stream" \
  --data /run/brew --lines --format json --no-page > "$out/live.json" 2> "$out/live.log"
echo "rehearse ended with $?"
cat "$LAB_LOG/brew.log"
$PROGRAM runs export --all --data /run/brew --to /run/kept
cp "$(find /run/kept -name '*.stream' | head -n 1)" "$out/kept.stream"
cp /run/brew/logs/pourwright.log "$out/link.log"
$PROGRAM analyse "$out/kept.stream" --plan src/test/ble-lab/plan.yaml --format json > "$out/again.json"
echo "analyse ended with $?"
