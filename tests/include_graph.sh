#!/bin/sh
# No cycle among the headers of lib/ and of cli/, and none among their modules (a module is a .c and
# its .h). Groups that share internal headers count as one module.
# Usage: include_graph.sh SOURCE_DIR
set -eu
cd "$1"
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
bad=0

# "who whom" for each #include of ours; the system's are in angles.
edges() { # files
    grep -H '^#include "' "$@" |
        sed -E 's|^[a-z]+/([a-z_0-9]+)\.[ch]:#include "([a-z_0-9]+)\.h".*|\1 \2|'
}

look() { # name
    awk '$1 != $2' "$dir/edges" | sort -u >"$dir/sorted"
    [ "$(wc -l <"$dir/sorted")" -gt 20 ] || { echo "$1: hardly any #include was found"; bad=1; }
    tsort "$dir/sorted" >/dev/null 2>"$dir/said" || { echo "$1: cycle"; sed 's/^tsort: //' "$dir/said"; bad=1; }
}

grouped() {
    sed -E -e 's/\b(casefile|casecheck|casekeys|keyrows|casereader|readings|yamltree)\b/case_reader/g' \
        -e 's/\b(refrigerant|refrigerant_tables)\b/refrigerants/g' \
        -e 's/\b(tune|tunecheck)\b/tuning/g'
}

edges lib/*.h >"$dir/edges"
look "headers of lib"
edges lib/*.h lib/*.c | grouped >"$dir/edges"
look "modules of lib"
edges cli/*.h cli/*.c >"$dir/edges"
look "modules of cli"
exit $bad
