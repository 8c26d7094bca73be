#!/usr/bin/env bash
# Installs the packages on a Debian that has nothing else, and tries them there:
#   tests/package/install_deb.sh SUITE FOLDER
# SUITE (bookworm or trixie) is the Debian that the packages in FOLDER were built on, by .packaging/deb FOLDER. Needs root
# and debootstrap; BASE names a root made by debootstrap --variant=minbase that is copied instead of making one.
# Without libdetent-dev in FOLDER the program alone is tried.
set -euo pipefail
suite=${1:?write: tests/package/install_deb.sh SUITE FOLDER} folder=${2:?the folder with the packages is missing}
cd "$(dirname "$0")/../.."

root=$(mktemp -d "${TMPDIR:-/tmp}/detent-root-XXXXXX")
finish() {
  umount "$root/proc" 2>/dev/null || true
  mountpoint -q "$root/proc" || rm -rf --one-file-system "$root"
}
trap finish EXIT
if [ -n "${BASE:-}" ]; then
  cp -a "$BASE/." "$root/"
else
  debootstrap --variant=minbase "$suite" "$root" >&2
fi
cp /etc/resolv.conf "$root/etc/"
cp "$folder"/*detent*.deb "$root/srv/"
# The program that README.md shows, for the libraries.
mkdir "$root/srv/judge"
awk '/^```/ {if (out) {out = ""} else if ($0 == "```cmake") {out = "CMakeLists.txt"} else if ($0 == "```cpp") {out = "judge.cpp"}; next}
     out {print > (folder "/" out)}' folder="$root/srv/judge" README.md
mount -t proc proc "$root/proc"

# Inside. A line "ok: …" for each thing that was seen.
cat >"$root/srv/try" <<'TRY'
set -euo pipefail
cd /srv
export DEBIAN_FRONTEND=noninteractive LC_ALL=C.UTF-8
specs=/usr/share/detent/specs
fail() { echo "FAILED: $*"; exit 1; }
ok() { echo "ok: $*"; }
status_of() { local status=0; "$@" >answer 2>&1 || status=$?; echo $status; }

! command -v g++ >/dev/null || fail "this Debian is not bare: it has g++"
! command -v detent >/dev/null || fail "detent is there already"
apt-get update -q >log 2>&1 || { cat log; fail "apt-get update"; }
apt-get install -y -q ./detent_*.deb >log 2>&1 || { cat log; fail "the package can't be installed"; }
[ -z "$(dpkg --audit)" ] || fail "$(dpkg --audit)"
ok "installed, with what it needs: $(dpkg-query -W -f='${Depends}' detent)"

detent --version | grep -E '^detent [0-9.]+, on Z3 [0-9.]+$' || fail "--version says $(detent --version)"
[ "$(status_of detent check $specs/boat/pump_jet.detent)" = 0 ] || { cat answer; fail "the pump-jet is not proved"; }
grep -q '7 proved' answer || { cat answer; fail "the pump-jet is not proved"; }
ok "$(tail -n 2 answer | head -n 1)"
[ "$(status_of detent check $specs/boat/flaw_window_kept_alive.detent)" = 1 ] || { cat answer; fail "the flaw is not found"; }
ok "$(tail -n 2 answer | head -n 1)"
[ "$(status_of detent report $specs/boat/pump_jet.detent -o page.html)" = 0 ] || { cat answer; fail "no report"; }
grep -q '<svg' page.html || fail "no picture in the report"
ok "a report of $(wc -c <page.html) bytes, with its picture"
zcat /usr/share/man/man1/detent.1.gz | grep -q 'SH EXIT STATUS' || fail "no manual page"
ok "$(find /usr/share/man -name 'detent*.1.gz' | wc -l) manual pages"
bash -c 'source /usr/share/bash-completion/completions/detent; COMP_WORDS=(detent chec) COMP_CWORD=1; _detent
  [ "${COMPREPLY[*]}" = check ]' || fail "bash is not offered the command check"
ok "completion"

if ls libdetent-dev_*.deb >/dev/null 2>&1; then
  apt-get install -y -q --no-install-recommends ./libdetent-dev_*.deb g++ cmake make >log 2>&1 ||
    { cat log; fail "libdetent-dev can't be installed"; }
  { cmake -S judge -B judge/build && cmake --build judge/build; } >log 2>&1 ||
    { cat log; fail "README.md's program can't be built"; }
  [ "$(status_of judge/build/judge $specs/boat/flaw_window_kept_alive.detent)" = 1 ] ||
    fail "README.md's program takes the flaw for sound"
  grep -q 'window_closes: refuted' answer || fail "README.md's program does not find the flaw"
  ok "README.md's program on libdetent-dev"
fi

mapfile -t ours < <(dpkg-query -W -f='${Package} ' '*detent*' | tr ' ' '\n')
apt-get purge -y -q "${ours[@]}" >log 2>&1 || { cat log; fail "the packages can't be removed"; }
left=$(find / -xdev -path /srv -prune -o -iname '*detent*' -print | grep -v -e '^/proc/' -e '^/var/' || true)
[ -z "$left" ] || fail "left behind: $left"
ok "removed, with nothing left behind"
TRY
chroot "$root" /usr/bin/env -i HOME=/srv PATH=/usr/sbin:/usr/bin:/sbin:/bin bash /srv/try
