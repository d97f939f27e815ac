#!/bin/sh
# What can be said of the library without running it: no writable static data, only ct_ symbols
# exported, and every public header compiles alone, in C and in C++.
# Usage: library_shape.sh CC CXX HEADER_DIR LIBRARY OBJECT...
set -eu
cc=$1 cxx=$2 headers=$3 library=$4
shift 4
bad=0
complain() { echo "$*"; bad=1; }

[ $# -gt 10 ] || complain "only $# objects given"
for object in "$@"; do
    # .data.rel.ro is read-only once loaded: constant tables that hold addresses.
    writable=$(size -A "$object" | awk '
        $1 ~ /^(\.data|\.bss|\.tdata|\.tbss|COMMON)/ && $1 !~ /^\.data\.rel\.ro/ && $2 > 0 {
            printf "%s %s ", $1, $2 }')
    [ -z "$writable" ] || complain "$object: writable static data: $writable"
done

foreign=$(nm -D --defined-only "$library" | awk '$3 !~ /^ct_/ { printf "%s ", $3 }')
[ -z "$foreign" ] || complain "exported without ct_: $foreign"
exported=$(nm -D --defined-only "$library" | grep -c ' T ct_')
[ "$exported" -gt 50 ] || complain "only $exported symbols exported"

# A function more or less is meant, or it is not there.
here=$(dirname "$0")
sh "$here/symbols.sh" "$library" | diff "$here/symbols.txt" - ||
    complain "exported are other functions than in tests/symbols.txt ('<' is gone, '>' is new): when meant, see 'Versions' in DEVELOPERS.md, then make the target symbols-refresh"

# Each is called by the library or the program, or its header says that it is for host programs.
nm -D --defined-only "$library" | awk '$2 == "T" { print $3 }' | awk '
    NR == FNR { exported[$1] = 1; next }
    FNR == 1 { comment = "" }
    FILENAME ~ /\.h$/ {
        if ($0 ~ /^\/\*/) comment = ""
        if ($0 ~ /^(\/\*| \*)/ || $0 !~ /;/) comment = comment $0
        if ($0 ~ /^$/) comment = ""
    }
    {
        line = $0
        while (match(line, /ct_[A-Za-z0-9_]+/)) {
            name = substr(line, RSTART, RLENGTH)
            line = substr(line, RSTART + RLENGTH)
            if (!(name in exported)) continue
            if (FILENAME ~ /\.c$/) {
                if ($0 ~ /^ /) called[name] = 1
            } else if (line ~ /^\(/ && $0 !~ /^ \*/ && (comment $0) ~ /[Ff]or host programs/) {
                host[name] = 1
            }
        }
    }
    END { for (name in exported) if (!(name in called) && !(name in host)) print name }
' - "$headers"/*/*.[ch] "$here"/../cli/*.c "$here"/../cli/*/*.c "$here"/../models/*/*.c | LC_ALL=C sort >unused.$$
# shellcheck disable=SC2046
[ ! -s unused.$$ ] ||
    complain "exported, but neither called nor said to be for host programs in its header:" $(cat unused.$$)
rm -f unused.$$

checked=0
for header in "$headers"/*/*.h; do
    # Internal headers say so in their opening paragraph.
    if sed '/\*\//q' "$header" | grep -qi 'internal'; then continue; fi
    checked=$((checked + 1))
    echo "#include \"$header\"" |
        "$cc" -I "$headers" -std=c17 -Wall -Wextra -Wpedantic -Werror -fsyntax-only -x c - ||
        complain "$header does not compile alone in C"
    echo "#include \"$header\"" |
        "$cxx" -I "$headers" -std=c++17 -Wall -Wextra -Wpedantic -Werror -fsyntax-only -x c++ - ||
        complain "$header does not compile alone in C++"
done
[ "$checked" -gt 10 ] || complain "only $checked headers checked"
echo "$# objects, $exported exported symbols, $checked headers"
exit $bad
