#!/bin/sh
# The array job of examples/fleet is tested on a real batch scheduler (Slurm) on this machine alone. Where Slurm is
# missing and the package manager may install it (as root, or with sudo that asks no password), it is installed; then
# its daemons are started on loopback, with keys, ports, state and logs of their own in one folder. Standard output gets
# two settings for the shell; where Slurm cannot be had it stays empty and standard error says so: the test is then
# skipped. Nothing here waits for ever, and the exit code is always 0.
#   eval "$(sh .config/start-scheduler.sh)"    sets SLURM_CONF and LIFETALLY_SCHEDULER
#   sh .config/stop-scheduler.sh               stops it again
PATH=$PATH:/usr/sbin:/sbin
have() { command -v "$1" >/dev/null 2>&1; }
all_there() { have munged && have mungekey && have slurmctld && have slurmd && have sbatch; }

without() {
  echo '**********************************************************************' >&2
  echo "* NO BATCH SCHEDULER: $1" >&2
  echo '* The array job of examples/fleet is not tested.' >&2
  echo '**********************************************************************' >&2
  exit 0
}

if ! all_there && have apt-get; then
  as_root=
  [ "$(id -u)" = 0 ] || as_root='sudo -n'
  if [ -z "$as_root" ] || { have sudo && sudo -n true 2>/dev/null; }; then
    echo 'No batch scheduler here: installing Slurm with apt-get ...' >&2
    export DEBIAN_FRONTEND=noninteractive
    $as_root timeout 120 apt-get update -q >/dev/null 2>&1
    $as_root timeout 300 apt-get install -y -q --no-install-recommends slurmctld slurmd slurm-client munge </dev/null >/dev/null 2>&1
  fi
fi
all_there || without 'Slurm is not installed and could not be.'

dir=$(mktemp -d)
chmod 755 "$dir"
mkdir -p "$dir/state" "$dir/spool" "$dir/log"
export LIFETALLY_SCHEDULER="$dir" SLURM_CONF="$dir/slurm.conf"
give_up() {
  logs=$(tail -q -n 3 "$dir"/log/*.log 2>/dev/null)
  sh "$(dirname "$0")/stop-scheduler.sh"
  without "Slurm did not start. $logs"
}

ports=$(node -e '
  const servers = [0, 0].map(() => require("net").createServer().listen(0, "127.0.0.1"))
  setTimeout(() => {
    console.log(servers.map(server => server.address().port).join(" "))
    servers.forEach(server => server.close())
  }, 100)')
user=$(id -un)
cat >"$dir/slurm.conf" <<CONF
ClusterName=local
SlurmctldHost=$(hostname)(127.0.0.1)
SlurmctldPort=${ports% *}
SlurmdPort=${ports#* }
SlurmUser=$user
SlurmdUser=$user
AuthType=auth/munge
AuthInfo=socket=$dir/munge.socket
StateSaveLocation=$dir/state
SlurmdSpoolDir=$dir/spool
SlurmctldLogFile=$dir/log/slurmctld.log
SlurmdLogFile=$dir/log/slurmd.log
SlurmctldPidFile=$dir/slurmctld.pid
SlurmdPidFile=$dir/slurmd.pid
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SchedulerParameters=batch_sched_delay=0,sched_interval=1
ReturnToService=2
JobAcctGatherType=jobacct_gather/none
MpiDefault=none
KillWait=5
JobRequeue=1
NodeName=$(hostname) NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=batch Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF
# Later versions ask for control groups unless told that there are none; earlier ones do not know the word.
version=$(slurmd -V | sed 's/^[^0-9]*\([0-9]*\)\.\([0-9]*\).*/\1\2/')
[ "${version:-0}" -lt 2311 ] || echo 'CgroupPlugin=disabled' >"$dir/cgroup.conf"

mungekey --create --keyfile "$dir/munge.key" >/dev/null 2>&1 || give_up
timeout 10 munged --force --key-file="$dir/munge.key" --socket="$dir/munge.socket" --pid-file="$dir/munged.pid" \
  --log-file="$dir/log/munged.log" --seed-file="$dir/munge.seed" </dev/null >/dev/null 2>&1 || give_up
timeout 10 slurmctld -f "$SLURM_CONF" </dev/null >/dev/null 2>&1 || give_up
timeout 10 slurmd -f "$SLURM_CONF" </dev/null >/dev/null 2>&1 || give_up
for _ in $(seq 40); do
  if timeout 5 sinfo -h -o %T 2>/dev/null | grep -q idle; then
    echo "export SLURM_CONF='$SLURM_CONF' LIFETALLY_SCHEDULER='$dir'"
    exit 0
  fi
  sleep 0.5
done
give_up
