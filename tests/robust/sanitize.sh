#!/usr/bin/env bash
# Builds with sanitizers and runs the tests under them:
#   tests/robust/sanitize.sh address,undefined [TARGET [TAGS]]…     all that finds room in an hour, if none is said
#   tests/robust/sanitize.sh thread                                 what works on several threads
# in build-san-… beside the sources, at nice 19. Each target is followed by the Catch2 tags that it is run with. Ends with a
# line; exit status 0 only if every program ended well.
set -uo pipefail
cd "$(dirname "$0")/../.."
which=${1:-address,undefined}
shift || true
build=build-san-${which//,/-}
case $which in
  thread) [ $# -gt 0 ] || set -- lsp_tests "" robust_tests "[threads]" ;;
  # Left out: what runs other programs for minutes (a browser, other solvers), and what measures memory, of which a
  # sanitizer needs many times as much.
  *) [ $# -gt 0 ] || set -- dsl_tests "" lsp_tests "" solver_tests "~[evidence]" shards_tests "~[recipe]" \
    robust_tests "[threads]" cli_tests "~[browser]" ;;
esac
nice -n 19 cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS_DEBUG="-O1 -g1" \
  ${CMAKE_CXX_COMPILER_LAUNCHER:+-DCMAKE_CXX_COMPILER_LAUNCHER="$CMAKE_CXX_COMPILER_LAUNCHER"} \
  -DDETENT_SANITIZE="$which" >/dev/null || exit 2
export ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1
export LSAN_OPTIONS=suppressions=$PWD/tests/robust/leaks.supp
export TSAN_OPTIONS=suppressions=$PWD/tests/robust/threads.supp
export DETENT_SANITIZED=1
wrong=0 ran=0
while [ $# -gt 0 ]; do
  nice -n 19 ninja -C "$build" "$1" >"$build/$1.build.log" || { tail "$build/$1.build.log"; exit 2; }
  # shellcheck disable=SC2086  # no tags, no word
  nice -n 19 "$build/tests/$1" ${2:-} >"$build/$1.log" 2>&1 || { wrong=$((wrong + 1)); echo "WRONG  $1: see $build/$1.log"; }
  tail -n 3 "$build/$1.log"
  ran=$((ran + 1))
  shift $(($# > 1 ? 2 : 1))
done
echo "sanitizers $which: $ran programs, $wrong wrong"
[ "$wrong" -eq 0 ]
