#!/bin/sh
# Nothing is ever lost, and nothing is written where it should not be. Usage: files.sh <plait>, from the source folder.
plait=$1
case $plait in /*) ;; *) plait=$PWD/$plait ;; esac
demo=$PWD/docs/demo/van.toml
failed=0
fail() { echo "FAILED: $1"; failed=1; }

# refused <exit code> <words> <what> <arguments …>: the run ends so, says so, and soon.
refused() {
    wanted=$1 words=$2 what=$3
    shift 3
    timeout 20 "$plait" "$@" >"$folder/out" 2>"$folder/err" </dev/null
    code=$?
    [ $code = "$wanted" ] || fail "$what: exit code $code instead of $wanted"
    grep -q -- "$words" "$folder/err" || { fail "$what: the complaint lacks '$words':"; cat "$folder/err"; }
}
no_leftovers() {
    found=$(find "$folder" -name '*.part-*')
    [ -z "$found" ] || fail "$1: $found is left"
}

folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT

# No output is an input or another output, however it is spelled.
cp docs/demo/workshop-sweep.csv "$folder/sweep.csv"
cp "$folder/sweep.csv" "$folder/kept.csv"
ln -s sweep.csv "$folder/link.csv"
ln "$folder/sweep.csv" "$folder/hard.csv"
for name in sweep.csv ./sweep.csv link.csv hard.csv; do
    (cd "$folder" && refused 2 'is a file that this command reads' "learn --out $name" learn sweep.csv --out $name --force; exit $failed) || failed=1
    cmp -s "$folder/sweep.csv" "$folder/kept.csv" || fail "learn --out $name: the sweep has changed"
done
refused 2 'named for two outputs' 'one name for two outputs' learn "$folder/sweep.csv" --out "$folder/x" --svg "$folder/./x"
[ ! -e "$folder/x" ] || fail 'one name for two outputs: something was written'

# A pipe, a device or a folder is no place for a page; nobody waits for a reader.
mkfifo "$folder/pipe" || exit 1
refused 2 'no ordinary file' 'a page into a pipe' check "$demo" --page "$folder/pipe"
refused 2 'no ordinary file' 'a page into a device' check "$demo" --page /dev/null
refused 2 'no ordinary file' 'a page into a folder' check "$demo" --page "$folder"
refused 2 'name' 'a page without a name' check "$demo" --page ''
refused 3 'folder is not there' 'a page into no folder' check "$demo" --page "$folder/none/page.html"

refused 2 'already' 'a set-up into a pipe' new "$folder/pipe"
refused 2 'already' 'a window into a pipe' learn docs/demo/workshop-sweep.csv --out "$folder/pipe"

# The same permission bits, the same link, and the old page until the new one is whole.
"$plait" check "$demo" --page "$folder/page.html" >/dev/null || fail 'a page'
chmod 640 "$folder/page.html"
ln -s page.html "$folder/linked.html"
cp "$folder/page.html" "$folder/page.kept"
"$plait" check "$demo" --page "$folder/linked.html" >/dev/null || fail 'a page over a link'
[ -L "$folder/linked.html" ] || fail 'a page over a link: the link is gone'
[ "$(stat -c %a "$folder/page.html")" = 640 ] || fail 'a page over another: its permission bits have changed'
cmp -s "$folder/page.html" "$folder/page.kept" || fail 'a page over a link: not the same page'
(
    ulimit -f 8
    "$plait" check "$demo" --full --page "$folder/page.html" >/dev/null 2>"$folder/err"
)
code=$?
[ $code = 3 ] || fail "a page that has no room: exit code $code instead of 3"
cmp -s "$folder/page.html" "$folder/page.kept" || fail 'a page that has no room: the old one is gone'
no_leftovers 'a page that has no room'

# A set-up from a stranger opens no device and waits for no pipe.
for path in /dev/zero "$folder/pipe"; do
    sed "s|^file = .*|file = \"$path\"|" "$demo" >"$folder/strange.toml"
    refused 2 'no ordinary file' "file = $path" check "$folder/strange.toml"
done

# Standard input, from the folder that one is in.
(cd docs/demo && "$plait" check - <van.toml) >"$folder/piped" 2>"$folder/err"
code=$?
"$plait" check "$demo" >"$folder/named"
[ $code = $? ] || { fail 'a set-up from standard input'; cat "$folder/err"; }
[ "$(head -n 1 "$folder/piped")" = "$(head -n 1 "$folder/named")" ] || fail 'a set-up from standard input: another verdict'
printf 'volts,amps\n12,5\n' | timeout 20 "$plait" explain - - >/dev/null 2>"$folder/err"
code=$?
[ $code = 2 ] || fail "standard input for two files: exit code $code instead of 2"
exit $failed
