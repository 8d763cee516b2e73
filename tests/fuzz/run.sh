#!/bin/sh
# Runs every fuzz target. Usage, from the source folder:
#     sh tests/fuzz/run.sh FOLDER [RUNS-IN-PER-CENT | --seconds N] [--only readers|commands|TARGET]
# FOLDER has plait_fuzz_readers and plait_fuzz_commands; one that is not built is left out, and said.
#
# By default each target has a fixed seed and a fixed number of runs, so that two runs of one build do the same. With --seconds each
# target runs for so long, with a seed of its own, and what it finds new is kept in WORK/corpus for the next time. WORK is
# FOLDER/work for the everyday tests and build/fuzz for libFuzzer's.
programs=$1
shift
share=100
seconds=0
only=
while [ $# -gt 0 ]; do
    case $1 in
    --seconds) seconds=$2 && shift ;;
    --only) only=$2 && shift ;;
    *) share=$1 ;;
    esac
    shift
done
here=tests/fuzz
work=$programs/work
[ "$programs" != build/fuzz/tests/fuzz ] || work=build/fuzz
mkdir -p "$work/found"
failed=0

seeds_of() {
    into=$1/$2
    mkdir -p "$into"
    [ ! -d "$here/seeds/$2" ] || cp "$here/seeds/$2"/* "$into/"
    case $2 in
    setup) cp docs/demo/*.toml tests/input/good/*.toml tests/input/broken/*.toml "$into/" ;;
    panel) cp panels/*.toml "$into/" ;;
    controller) cp docs/demo/inputs/*.toml docs/demo/van.toml "$into/" ;;
    prices) cp docs/demo/prices.csv "$into/" ;;
    measured) cp docs/demo/workshop-sweep.csv "$into/" && head -c 2000 docs/demo/van-log.csv >"$into/log" ;;
    esac
}

# How many runs take some five seconds of each reader; those of the commands are guessed until they have run.
runs_of() {
    case $1 in
    measured) echo 150 ;;  # each is read whole, and again in pieces: 37 ms
    setup | panel | controller) echo 6000 ;;
    epw | station | weather | prices | wiring | reading | quantity) echo 10000 ;;
    options) echo 1500 ;;
    run-harvest | run-charge | run-arrange | run-match | run-compare) echo 60 ;;
    run-*) echo 300 ;;
    esac
}

export ASAN_OPTIONS=allocator_may_return_null=1
for fuzz in "$programs/plait_fuzz_readers" "$programs/plait_fuzz_commands"; do
case $only in readers | commands) [ "${fuzz##*_}" = "$only" ] || continue ;; esac
[ -x "$fuzz" ] || { echo "LEFT OUT: $fuzz is not built"; continue; }
for target in $("$fuzz" --list); do
    case $only in "" | readers | commands | "$target") ;; *) continue ;; esac
    log=$work/$target.log
    common="-max_len=4096 -timeout=60 -rss_limit_mb=2048 -dict=$here/words.dict -artifact_prefix=$work/found/$target-"
    if [ "$seconds" -gt 0 ]; then
        seeds_of "$work/corpus" "$target"
        # shellcheck disable=SC2086  # the options are meant to split
        "$fuzz" "--target=$target" $common -max_total_time="$seconds" "$work/corpus/$target" >"$log" 2>&1 || failed=1
    else
        rm -rf "$work/fixed/$target"
        seeds_of "$work/fixed" "$target"
        runs=$(($(runs_of "$target") * share / 100))
        # shellcheck disable=SC2086
        "$fuzz" "--target=$target" $common -seed=1 -runs="$runs" "$work/fixed/$target" >"$log" 2>&1 || failed=1
    fi
    if grep -q -e '^SUMMARY' -e '^FOUND' "$log"; then
        echo "FAILED: $target: $(grep -e '^FOUND' -e '^SUMMARY' "$log" | head -n 2 | tr '\n' ' ')"
        grep 'Test unit written to' "$log"
        failed=1
    else
        echo "$target: $(grep -a -E '^Done|^#[0-9]+.*DONE' "$log" | tail -n 1)"
    fi
done
done
exit $failed
