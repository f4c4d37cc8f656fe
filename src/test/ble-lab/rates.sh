#!/bin/bash
# Counts what arrives: rates.sh SECONDS RATE...
. src/test/ble-lab/common.sh
one_bearer
start_scale
seconds=$1; shift
for rate in "$@"; do
  echo "rate $rate"
  probe "$seconds" "rate $rate"
  await ended 1 $((seconds + 120))
done
