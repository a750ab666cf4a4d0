#!/bin/sh
# A fleet on many machines with a batch scheduler (Slurm): eight tasks, each plays its part. Which one it is, the program
# reads from the variables that the scheduler sets for the tasks of an array. A task that was stopped is run again by the
# scheduler and goes on where it was. All machines must see the fleet and the folder OUT.
#
#   FLEET=examples/fleet/fleet.yaml OUT=parts sbatch examples/fleet/array-job.sh
#   lifetally join parts --out reserve          when all tasks are done
#
# More tasks: sbatch --array=0-99 …; how many there are, each task is told by the scheduler.
#SBATCH --job-name=fleet
#SBATCH --array=0-7
#SBATCH --ntasks=1
#SBATCH --cpus-per-task=1
#SBATCH --requeue
#SBATCH --export=ALL
: "${FLEET:=examples/fleet/fleet.yaml}" "${OUT:=parts}" "${DRAWS:=1000}" "${SEED:=1}" "${LIFETALLY:=lifetally}"

$LIFETALLY fleet "$FLEET" --draws "$DRAWS" --seed "$SEED" --threads 1 --resume --quiet --out "$OUT"
status=$?
# 3: done, with some sites left out; the report says which. The scheduler need not call that a failure.
[ "$status" = 3 ] && exit 0
exit "$status"
