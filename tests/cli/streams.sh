#!/bin/sh
# A report that could not be written must never look like a clean one. Usage: streams.sh <plait>, from the source folder.
plait=$1
demo=docs/demo/van.toml
failed=0

# expect <exit code> <got> <complaint> <file with stderr> <what>
expect() {
    if [ "$1" != "$2" ]; then echo "FAILED: $5: exit code $2 instead of $1"; failed=1; fi
    if ! grep -q "$3" "$4"; then echo "FAILED: $5: the complaint lacks '$3':"; cat "$4"; failed=1; fi
}

folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
err=$folder/err

"$plait" check "$demo" >"$folder/out" 2>"$err"
code=$?
[ $code = 0 ] || { echo "FAILED: the demo itself: exit code $code"; failed=1; }
[ -s "$folder/out" ] || { echo "FAILED: the demo gives no report"; failed=1; }

"$plait" check docs/demo >"$folder/out" 2>"$err"
expect 2 $? 'name a file, not a folder' "$err" 'a folder as FILE'
[ ! -s "$folder/out" ] || { echo "FAILED: a folder as FILE: something on stdout"; failed=1; }

"$plait" check "$folder/none.toml" >"$folder/out" 2>"$err"
expect 2 $? 'check the path' "$err" 'a missing FILE'
[ ! -s "$folder/out" ] || { echo "FAILED: a missing FILE: something on stdout"; failed=1; }

"$plait" check "$demo" 2>"$err" >&-
expect 3 $? 'could not be written' "$err" 'a closed stdout'

# A pipe whose reader has gone: ended by the signal as any filter is (128 + 13), or, where that is ignored, exit code 3.
mkfifo "$folder/pipe" || exit 1
: <"$folder/pipe" &
exec 3>"$folder/pipe"
wait
"$plait" check "$demo" >&3 2>"$err"
code=$?
case $code in 3 | 141) ;; *) echo "FAILED: a pipe without reader: exit code $code"; failed=1 ;; esac
(
    trap '' PIPE
    "$plait" check "$demo" >&3 2>"$err"
)
expect 3 $? 'could not be written' "$err" 'a pipe without reader, signal ignored'
exec 3>&-

if [ ! -c /dev/full ]; then
    [ $failed = 0 ] || exit 1
    echo "SKIPPED: there is no /dev/full here; the rest passed"
    exit 77
fi
for command in "check $demo" "check --json $demo" "arrange --all $demo" "panel panels/rigid-175w-perc.toml" "--help"; do
    # Words split on purpose.
    "$plait" $command >/dev/full 2>"$err"
    expect 3 $? 'disk full' "$err" "a full disk: $command"
done
"$plait" check "$folder/none.toml" >"$folder/out" 2>/dev/full
code=$?
[ $code = 3 ] || { echo "FAILED: a full disk under stderr: exit code $code instead of 3"; failed=1; }
exit $failed
