#!/usr/bin/env bash
# A cluster of one node, by Debian's slurm-wlm, for as long as a command runs:
#
#   one_node.sh FOLDER COMMAND...
#
# Everything that it writes is in FOLDER (which must be there), it listens on this machine alone, and when it ends its
# three daemons end with it. Exit status: of the command; 77 where the cluster does not start, with the reason.
set -euo pipefail
folder="$(cd "$1" && pwd)"
shift
umask 077
mkdir -p "$folder"/{run,state,log,spool}
PATH="$PATH:/usr/sbin:/sbin"

not_here() {
  echo "no one-node cluster: $1" >&2
  exit 77
}
for program in munged slurmctld slurmd sbatch; do
  command -v "$program" >/dev/null || not_here "$program is not installed (Debian: munge slurmctld slurmd slurm-client)"
done
[ "$(id -u)" -eq 0 ] || not_here "slurmd needs root"

# Ends what was started here, by number.
finish() {
  local name file
  for name in slurmd slurmctld munged; do
    file="$folder/run/$name.pid"
    [ -s "$file" ] && kill "$(cat "$file")" 2>/dev/null || true
  done
}
trap finish EXIT

node="$(hostname -s)"
port=$((20000 + $$ % 20000))
dd if=/dev/urandom of="$folder/munge.key" bs=1024 count=1 status=none
cat > "$folder/slurm.conf" <<CONF
ClusterName=detent
SlurmctldHost=$node(127.0.0.1)
SlurmUser=root
AuthType=auth/munge
AuthInfo=socket=$folder/run/munge.sock
MpiDefault=none
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SlurmctldPort=$port
SlurmdPort=$((port + 1))
SlurmctldPidFile=$folder/run/slurmctld.pid
SlurmdPidFile=$folder/run/slurmd.pid
SlurmctldLogFile=$folder/log/slurmctld.log
SlurmdLogFile=$folder/log/slurmd.log
StateSaveLocation=$folder/state
SlurmdSpoolDir=$folder/spool
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
ReturnToService=2
MaxArraySize=1001
SchedulerParameters=sched_interval=1,batch_sched_delay=1
NodeName=$node NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF
export SLURM_CONF="$folder/slurm.conf"
export PATH

why() { tail -n 3 "$folder"/log/"$1".log 2>/dev/null | tr '\n' ' '; }
munged --force --key-file="$folder/munge.key" --socket="$folder/run/munge.sock" --pid-file="$folder/run/munged.pid" \
  --log-file="$folder/log/munged.log" --seed-file="$folder/run/seed" 2>"$folder/log/start.log" ||
  not_here "munged: $(why munged)"
slurmctld -f "$SLURM_CONF" 2>>"$folder/log/start.log" || not_here "slurmctld: $(why slurmctld)"
slurmd -f "$SLURM_CONF" 2>>"$folder/log/start.log" || not_here "slurmd: $(why slurmd)"
for _ in $(seq 120); do
  sinfo --noheader --format=%t 2>/dev/null | grep -q idle && ready=1 && break
  sleep 0.5
done
[ -n "${ready:-}" ] || not_here "the node is not idle after 60 s: $(why slurmctld)$(why slurmd)"
"$@"
