#!/bin/bash
# A whole rehearsal over Bluetooth, from the first pour to the lift, with the scale away in mid pour;
# then what was kept is analysed again: rehearse.sh FOLDER [AWAY_AT AWAY_FOR]
# Writes live.json, again.json and kept.stream into FOLDER.
. src/test/ble-lab/common.sh
out=$1
start_scale --payload text --rate 10 ${2:+--away $2 $3}
$PROGRAM rehearse $LAB/plan.yaml --scale "ble:$SCALE?profile=ble-text-stream" \
  --data /run/brew --radio hci0 --lines --format json --no-page > "$out/live.json" 2> "$out/live.log"
echo "rehearse ended with $?"
cat "$LAB_LOG/scale.log"
$PROGRAM runs export --all --data /run/brew --to /run/kept
cp "$(find /run/kept -name '*.stream' | head -n 1)" "$out/kept.stream"
cp /run/brew/logs/pourwright.log "$out/link.log"
$PROGRAM analyse "$out/kept.stream" --plan $LAB/plan.yaml --format json > "$out/again.json"
echo "analyse ended with $?"
