#!/usr/bin/env bash
# Fuzzes a reader with libFuzzer under the address and undefined-behaviour sanitizers:
#   tests/robust/fuzz.sh [SECONDS [NAME]]        NAME_fuzz of tests/fuzz; parse if not said, 60 s
# Builds it with Clang in build-fuzz first. What breaks it is left in build-fuzz/found/NAME. Ends with one line; exit
# status 0 only if nothing was found.
set -uo pipefail
cd "$(dirname "$0")/../.."
seconds=${1:-60}
name=${2:-parse}
source=$PWD/tests/fuzz
[ -e "$source/${name}_fuzz.cpp" ] || { echo "there is no fuzzer $name in tests/fuzz" >&2; exit 2; }
cmake -S . -B build-fuzz -G Ninja -DDETENT_FUZZ=ON -DCMAKE_CXX_COMPILER=clang++ \
  ${CMAKE_CXX_COMPILER_LAUNCHER:+-DCMAKE_CXX_COMPILER_LAUNCHER="$CMAKE_CXX_COMPILER_LAUNCHER"} >/dev/null || exit 2
ninja -C build-fuzz "${name}_fuzz" >build-fuzz/build.log || { tail build-fuzz/build.log; exit 2; }
work=build-fuzz/grown/$name
found=build-fuzz/found/$name
mkdir -p "$work" "$found"
log=build-fuzz/$name.log
folders=("$work")
for folder in "$source/corpus" "$source/found" "$source/${name}_corpus" "$source/${name}_found"; do
  [ -d "$folder" ] && folders+=("$folder")
done
build-fuzz/tests/fuzz/"${name}_fuzz" -dict="$source/words.dict" -max_total_time="$seconds" -rss_limit_mb=2048 \
  -timeout=20 -print_final_stats=1 -artifact_prefix="$found/" "${folders[@]}" >"$log" 2>&1
status=$?
runs=$(sed -nE 's/^stat::number_of_executed_units: *//p' "$log")
coverage=$(grep -oE 'cov: [0-9]+' "$log" | tail -n 1)
findings=$(find "$found" -type f | wc -l)
echo "fuzz $name: ${runs:-?} texts in $seconds s, ${coverage:-no coverage}, $findings findings, exit status $status"
[ "$status" -eq 0 ] && [ "$findings" -eq 0 ]
