#!/bin/bash
# A link's life: the scale away and back, silent while connected, Bluetooth off and on.
. src/test/ble-lab/common.sh
scale=$(pgrep -f peripheral.py)
probe 75 "rate 20" &
listening=$!
pause_until_weighing
sleep 4
tell "scale off"; power hci1 false; sleep 4; power hci1 true; tell "scale on"
sleep 14
tell "scale silent"; kill -STOP "$scale"; sleep 4; kill -CONT "$scale"; tell "scale speaks"
sleep 14
tell "radio off"; power hci0 false; sleep 4; power hci0 true; tell "radio on"
wait $listening
