#!/bin/sh
# The program, and the library in a program that chose a language, where decimals have a comma: the same bytes as in the C locale.
# Usage, from the source folder: locale.sh <plait> <plait_cli_tests>
plait=$1
tests=$2
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
export LOCPATH="$folder"
if ! command -v localedef >/dev/null || ! localedef -i de_DE -f UTF-8 "$folder/de_DE.UTF-8" 2>"$folder/err"; then
    echo "SKIPPED: the locale de_DE.UTF-8 cannot be made here (Debian: locales): $(head -n 1 "$folder/err" 2>/dev/null)"
    exit 77
fi
# That the locale works: printf of the shell's own library writes a comma.
proof=$(LC_ALL=de_DE.UTF-8 awk 'BEGIN { printf "%.1f", 0.5 }')
[ "$(LC_ALL=de_DE.UTF-8 /usr/bin/printf '%.1f' 0,5 2>/dev/null)" = "0,5" ] || [ "$proof" = "0,5" ] || {
    echo "SKIPPED: nothing here uses the locale that was made, so that this test would show nothing"
    exit 77
}
failed=0
while IFS= read -r typed; do
    # shellcheck disable=SC2086  # the words of a command line
    LC_ALL=C "$plait" $typed >"$folder/c" 2>&1
    code=$?
    # shellcheck disable=SC2086
    LC_ALL=de_DE.UTF-8 LANGUAGE=de "$plait" $typed >"$folder/de" 2>&1
    [ $code = $? ] || { echo "FAILED: another exit code: $typed"; failed=1; }
    cmp -s "$folder/c" "$folder/de" || { echo "FAILED: other bytes: $typed"; failed=1; }
    [ -s "$folder/c" ] || { echo "FAILED: nothing was said: $typed"; failed=1; }
done <<'END'
check docs/demo/allotment.toml --full
check docs/demo/barn.toml --json
arrange docs/demo/van.toml --seconds 1.5
curve docs/demo/shaded.toml --csv
learn docs/demo/workshop-sweep.csv --json
explain docs/demo/van.toml docs/demo/van-log.csv --wiring 1s4p
charge docs/demo/hut.toml --from 20%
harvest docs/demo/allotment.toml --day 12-21
check panels/folding-60w-mono.toml
END
"$tests" '[.locale]' >"$folder/out" 2>&1 || { echo "FAILED: the library after setlocale:"; tail -n 40 "$folder/out"; failed=1; }
grep -q 'All tests passed' "$folder/out" || { echo "FAILED: the library's test did not run"; failed=1; }
exit $failed
