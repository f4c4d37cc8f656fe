#!/bin/bash
# Counts what arrives: rates.sh SECONDS RATE...
. src/test/ble-lab/common.sh
seconds=$1; shift
for rate in "$@"; do
  echo "rate $rate"
  : > "$LAB_LOG/peripheral.log"
  probe "$seconds" "rate $rate"
done
