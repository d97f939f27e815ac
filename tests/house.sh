#!/bin/sh
# The size of things: no file of lib and cli over 500 lines, no function over 60, no parameter list
# longer than six, headers that say whether they are public.
# Usage: house.sh SOURCE_DIR
set -eu
cd "$1"
bad=0
files=$(find lib cli -name '*.[ch]')
[ "$(echo "$files" | wc -l)" -gt 100 ] || { echo "hardly any file was found"; bad=1; }

# shellcheck disable=SC2086
wc -l $files | awk '$2 != "total" && $1 > 500 { print $2 ": " $1 " lines, at most 500"; found = 1 } END { exit found }' || bad=1

# The layout is clang-format's: a function's head begins in the first column, its braces are there
# alone. Commas count only in the outermost brackets.
# shellcheck disable=SC2086
awk '
    function parameters(head,    i, depth, n, c) {
        for (i = index(head, "("); i <= length(head); i++) {
            c = substr(head, i, 1)
            if (c == "(") depth++
            else if (c == ")") { if (--depth == 0) break }
            else if (c == "," && depth == 1) n++
        }
        return n + (head !~ /\.\.\./)
    }
    FNR == 1 { head = ""; inside = 0 }
    /^\{/ { inside = 1; began = FNR; if (head ~ /\(/ && head !~ /=/ && parameters(head) > 6) { print FILENAME ":" FNR ": " parameters(head) " parameters, at most 6"; found = 1 } ; if (head ~ /\(/) functions++ ; next }
    /^\}/ { if (inside && FNR - began - 1 > 60) { print FILENAME ":" began ": a function of " FNR - began - 1 " lines, at most 60"; found = 1 } inside = 0; head = ""; next }
    inside { next }
    /^(#|\/\*| \*|\/\/)/ { head = ""; next }
    /;$/ || /^$/ { if (/;$/ && head $0 ~ /^[A-Za-z].*\(/ && head $0 !~ /=/ && parameters(head $0) > 6) { print FILENAME ":" FNR ": " parameters(head $0) " parameters, at most 6"; found = 1 } head = ""; next }
    { head = head $0 }
    END { print functions " functions"; exit found || functions < 500 }' $files || bad=1

# The opening paragraph of each header of the library ends with who it is for.
for header in lib/*/*.h; do
    sed '/\*\//q' "$header" | grep -qE '\b(Public|Internal)\.' ||
        { echo "$header: the opening paragraph says neither 'Public.' nor 'Internal.'"; bad=1; }
done
exit $bad
