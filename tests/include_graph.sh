#!/bin/sh
# The floors of the house: a folder includes from itself and from the folders under it, never from
# one above; and no cycle among headers, nor among modules (a module is a .c and its .h).
# Usage: include_graph.sh SOURCE_DIR
set -eu
cd "$1"
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
bad=0

lib_floors="base fluid part case plant judge study"
# Folders between brackets stand side by side: none includes from another.
cli_floors="base show [ sweep compare metering tune explain explore reckon fit keys whatif season new ] [ page batch ]"

# "folder/who folder/whom" for each #include of ours; the system's are in angles.
edges() { # root files
    root=$1
    shift
    grep -H '^#include "' "$@" |
        sed -E "s|^$root/([a-z_0-9/]+)\.[ch]:#include \"([a-z_0-9/]+)\.h\".*|\1 \2|"
}

no_cycle() { # name
    awk '$1 != $2' "$dir/edges" | sort -u >"$dir/sorted"
    [ "$(wc -l <"$dir/sorted")" -gt 20 ] || { echo "$1: hardly any #include was found"; bad=1; }
    tsort "$dir/sorted" >/dev/null 2>"$dir/said" || { echo "$1: cycle"; sed 's/^tsort: //' "$dir/said"; bad=1; }
}

# Every arrow points down. cli may use all of lib, so only its own headers count there.
arrows_down() { # root floors
    (cd "$1" && find . -name '*.h' | sed 's|^\./||') >"$dir/headers"
    awk -v root="$1" -v floors="$2" '
        FNR == NR { ours[$1] = 1; next }
        FNR == 1 || !n {
            n = split(floors, word, " ")
            for (i = 1; i <= n; i++) {
                if (word[i] == "[") { group = 1; height++ }
                else if (word[i] == "]") group = 0
                else { if (!group) height++; floor[word[i]] = height }
            }
        }
        {
            split($1, who, "/"); split($2, whom, "/")
            if (!(($2 ".h") in ours)) next
            if (!(who[1] in floor)) { print root "/" who[1] ": a folder without a floor"; found = 1 }
            else if (who[1] != whom[1] && floor[whom[1]] >= floor[who[1]]) {
                print root "/" $1 " includes " $2 ".h: an arrow up"; found = 1
            }
        }
        END { exit found }' "$dir/headers" "$dir/edges" || bad=1
}

edges lib lib/*/*.h >"$dir/edges"
no_cycle "headers of lib"
edges lib lib/*/*.h lib/*/*.c >"$dir/edges"
no_cycle "modules of lib"
arrows_down lib "$lib_floors"
edges cli cli/*/*.h cli/*/*.c >"$dir/edges"
arrows_down cli "$cli_floors"
awk 'FNR == NR { ours[$1] = 1; next } ($2 ".h") in ours' "$dir/headers" "$dir/edges" >"$dir/own"
mv "$dir/own" "$dir/edges"
no_cycle "modules of cli"
exit $bad
