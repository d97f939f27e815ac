#!/bin/sh
# What is installed works, from a folder of its own:
#   - the program runs the main job;
#   - the C example builds against it with pkg-config and with the CMake package, the umbrella header
#     compiles in C and in C++, and what they say is what the program says;
#   - the Python example runs, and the JSON of the library agrees with the program's;
#   - both manual pages are clean, of this version, and of a day; the example in the second runs;
#   - bash completes every verb and every option.
# Usage: install.sh BUILD_DIR SOURCE_DIR CC CXX
set -eu
build=$1 source=$2 cc=$3 cxx=$4
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
bad=0
fault() { echo "$*"; bad=1; }

tree=$dir/tree
cmake --install "$build" --prefix "$tree" >"$dir/log" 2>&1 || { cat "$dir/log"; exit 1; }
program=$tree/bin/coiltrim
examples=$tree/share/doc/coiltrim/examples
case=$examples/r22-larger-coil.yaml
cd "$dir"

env -i PATH=/usr/bin:/bin "$program" sweep "$case" -o out --no-render >report ||
    fault "the installed program cannot do the main job"
[ -s out/sweep.csv ] || fault "the installed program wrote no table"
pick=$(sed -n 's/^Pick: \([^,]*\),.*/\1/p' report)
[ -n "$pick" ] || fault "no pick in the report"
version=$("$program" --version)
[ "$version" = "coiltrim $(sed -n 's/^Version: //p' "$tree"/lib*/pkgconfig/coiltrim.pc "$tree"/lib/*/pkgconfig/coiltrim.pc 2>/dev/null)" ] ||
    fault "'$version', and pkg-config says another"

# Libraries are in lib, lib64 or lib/TRIPLET.
library=$(find "$tree" -name 'libcoiltrim.so.[0-9]' | head -n 1)
libraries=$(dirname "$library")
export PKG_CONFIG_PATH="$libraries/pkgconfig" LD_LIBRARY_PATH="$libraries"
# shellcheck disable=SC2046
"$cc" -std=c17 -Wall -Wextra -Wpedantic -Werror "$examples/library/pick.c" \
    $(pkg-config --cflags --libs coiltrim) -o pick || fault "pick.c does not build with pkg-config"
./pick "$case" | grep -qF "pick: $pick," || fault "pick.c picks another speed than '$pick'"
for language in c:c17:"$cc" c++:c++17:"$cxx"; do
    what=${language%%:*} rest=${language#*:}
    echo '#include <coiltrim/coiltrim.h>' | ${rest#*:} -std="${rest%%:*}" -Wall -Wextra -Wpedantic -Werror \
        -I "$tree/include" -fsyntax-only -x "$what" - || fault "coiltrim.h does not compile in $what"
done
{ cmake -S "$examples/library" -B cmake -DCMAKE_PREFIX_PATH="$tree" -DCMAKE_C_COMPILER="$cc" &&
    cmake --build cmake; } >log 2>&1 || { cat log; fault "pick.c does not build with the CMake package"; }
cmake/pick "$case" | grep -qF "pick: $pick," || fault "built with CMake, pick.c picks another speed"

export COILTRIM_LIBRARY="$library"
python3 "$examples/library/pick.py" "$case" | grep -qF "pick: $pick," ||
    fault "pick.py picks another speed than '$pick'"
python3 "$source/tests/answer_json.py" "$program" "$examples" || fault "the JSON of the library differs"

for page in man1/coiltrim.1 man5/coiltrim-case.5; do
    mandoc -T lint -W warning "$tree/share/man/$page" || fault "$page is not clean"
    grep -qE "^\.TH [A-Z-]+ [15] [0-9]{4}-[01][0-9]-[0-3][0-9] \"$version\"" "$tree/share/man/$page" ||
        fault "$page: the heading has not day and '$version'"
done
for section in 'EXIT STATUS' ENVIRONMENT FILES EXAMPLES 'SEE ALSO'; do
    grep -qx "\.SH $section" "$tree/share/man/man1/coiltrim.1" || fault "coiltrim.1: no $section"
done
keys=$("$program" keys --json | grep -c '"key":')
told=$(sed '/^\.SH KEYS OF A READINGS/q' "$tree/share/man/man5/coiltrim-case.5" | grep -c '^\.TP')
[ "$keys" -gt 100 ] && [ "$keys" -eq "$told" ] || fault "coiltrim-case.5: $told keys of $keys"
sed -n '/^\.SH EXAMPLES/,/^\.fi/p' "$tree/share/man/man5/coiltrim-case.5" |
    sed -e '1,/^\.nf/d' -e '/^\.fi/d' -e 's/\\-/-/g' >example.yaml
code=0
"$program" sweep example.yaml >/dev/null 2>log || code=$?
case $code in 0 | 10) ;; *) cat log; fault "the example of coiltrim-case.5 ends with $code" ;; esac

bash "$source/tests/completion.bash" "$tree/share/bash-completion/completions/coiltrim" "$program" ||
    fault "completion of bash"
exit $bad
