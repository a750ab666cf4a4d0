#!/bin/sh
# Stops what start-scheduler.sh started, by the numbers in its own files, and takes its folder away. Stops jobs first.
dir=${LIFETALLY_SCHEDULER:-}
[ -n "$dir" ] && [ -f "$dir/slurm.conf" ] || exit 0
SLURM_CONF="$dir/slurm.conf" timeout 10 scancel --partition=batch --signal=KILL >/dev/null 2>&1
for daemon in slurmd slurmctld munged; do
  [ -s "$dir/$daemon.pid" ] || continue
  pid=$(cat "$dir/$daemon.pid")
  kill "$pid" 2>/dev/null
  # each takes its file away when it has ended
  for _ in $(seq 20); do
    [ -e "$dir/$daemon.pid" ] && kill -0 "$pid" 2>/dev/null || continue 2
    sleep 0.25
  done
  kill -KILL "$pid" 2>/dev/null
done
rm -rf "$dir"
