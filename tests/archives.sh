#!/bin/sh
# Where the archive of a library is not installed, its shared library takes its place. Here GSL's
# counts as not found; only what the build would link is looked at.
# Usage: archives.sh SOURCE_DIR BINARY_DIR CC GENERATOR
set -eu
dir=$2/without_an_archive
rm -rf "$dir"
cmake -S "$1" -B "$dir" -G "$4" -DCMAKE_C_COMPILER="$3" -DCOILTRIM_TESTS=OFF \
    -DARCHIVE_gsl=ARCHIVE_gsl-NOTFOUND >"$dir.log" 2>&1 || {
    tail -20 "$dir.log"
    exit 1
}
# Ninja has it in one file, make in a file for each target.
linked=$(cat "$dir/build.ninja" "$dir/CMakeFiles/coiltrim.dir/link.txt" 2>/dev/null |
    grep 'libcoiltrim_cli\.a.*libcoiltrim_archive\.a')
case $linked in
*NOTFOUND* | *libgsl.a*) echo "linked, though not there: $linked"; exit 1 ;;
*libgsl.so* | *-lgsl*) ;;
*) echo "GSL is not linked: $linked"; exit 1 ;;
esac
