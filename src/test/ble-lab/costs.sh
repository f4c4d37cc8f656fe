#!/bin/bash
# What a rehearsal costs the processor: a minute without its scale, a minute at 80 readings a second.
. src/test/ble-lab/common.sh
$PROGRAM rehearse $LAB/plan.yaml --scale "ble:$SCALE?profile=ble-text-stream" \
  --data /run/brew --radio hci0 --lines --no-page > "$LAB_LOG/rehearse.log" 2>&1 &
program=$!
for i in $(seq 300); do grep -q searching /run/brew/logs/pourwright.log 2> /dev/null && break; sleep 0.2; done
sleep 20
echo "searching"
$PYTHON $LAB/cpu.py $program 60
start_scale --payload text --rate 80
for i in $(seq 300); do grep -q '> weighing' /run/brew/logs/pourwright.log && break; sleep 0.2; done
grep -q '> weighing' /run/brew/logs/pourwright.log || never weighing
sleep 5
echo "80 a second"
$PYTHON $LAB/cpu.py $program 60
cat /proc/stat | head -n 1
kill $program
