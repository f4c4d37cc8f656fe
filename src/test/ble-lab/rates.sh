#!/bin/bash
# Counts what arrives: rates.sh SECONDS RATE...
. src/test/ble-lab/common.sh
seconds=$1; shift
for rate; do
  start_scale --rate "$rate"
  echo "rate $rate"
  probe "$seconds"
  await ended 1 $((seconds + 120))
  end_scale
done
