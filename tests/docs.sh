#!/bin/sh
# Whether the manual page, the README and the help say the same, and what they say is so:
#   - each verb of --help has a section in the manual page and a line in the README, and each option
#     of its --help is in that section;
#   - each line of --help but the examples fits 80 columns; percent is written '50%' everywhere;
#   - each exit code of --help is in both, with the same words;
#   - each example command of each --help ends with an exit code that is no fault;
#   - each line shown after a '$ coiltrim' in the README is a line the program prints;
#   - each file of examples/ is in the README, each path in README.md and DEVELOPERS.md exists.
# Usage: docs.sh PROGRAM SOURCE_DIR
set -eu
program=$1 source=$2
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
faults=$dir/faults
: >"$faults"
fault() { echo "$*" | tee -a "$faults"; }

# Runs from a folder where the repository's relative paths lead where they should, and what is
# written stays apart.
mkdir "$dir/repo" "$dir/repo/build"
ln -s "$source/examples" "$dir/repo/examples"
ln -s "$program" "$dir/repo/build/coiltrim"
PATH=$dir/repo/build:$PATH
cd "$dir/repo"

# The manual without its escapes and font changes.
sed -e 's/\\f[A-Z]//g' -e 's/\\-/-/g' -e 's/\\(dq/"/g' "$source/cli/coiltrim.1" >"$dir/man"
"$program" --help >"$dir/help"
verbs=$(sed -n '/^Verbs:/,/^$/s/^  \([a-z]*\) .*/\1/p' "$dir/help")
[ "$(echo "$verbs" | wc -w)" -gt 9 ] || fault "only these verbs were found: $verbs"

for verb in $verbs; do
    awk -v verb="$verb" '/^\.S[SH]/ { inside = $2 == verb } inside' "$dir/man" >"$dir/section"
    [ -s "$dir/section" ] || fault "coiltrim.1: no section '.SS $verb'"
    grep -q "\`coiltrim $verb" "$source/README.md" || fault "README.md: verb $verb is not mentioned"
    "$program" "$verb" --help >"$dir/verb"
    sed '/^Example:/,$d' "$dir/verb" | awk 'length > 80' >"$dir/wide"
    [ ! -s "$dir/wide" ] || fault "$verb --help: over 80 columns: $(head -n 1 "$dir/wide")"
    cat "$dir/verb" >>"$dir/said"
    options=$(sed -n 's/^  [ -][a-z ][ ,] --\([a-z-]*\).*/\1/p' "$dir/verb")
    for option in $options; do
        [ "$option" = help ] || grep -q -e "--$option\\b" "$dir/section" ||
            fault "coiltrim.1: $verb has no --$option"
    done
    # And no option that is not there.
    for option in $(grep -o -e '--[a-z][a-z-]*' "$dir/section" | sed 's/^--//' | sort -u); do
        echo "$options help" | grep -qw -e "$option" || fault "coiltrim.1: $verb does not know --$option"
    done
    sed -n '/^Example:/,$s/^  coiltrim/coiltrim/p' "$dir/verb" >"$dir/examples"
    [ -s "$dir/examples" ] || fault "$verb --help: no example"
    while read -r line; do
        code=0
        sh -c "$line" >"$dir/out" 2>&1 </dev/null || code=$?
        case $code in
        0 | 10 | 11) ;;
        *) fault "$verb --help: '$line' ends with $code: $(head -n 3 "$dir/out")" ;;
        esac
    done <"$dir/examples"
done

# Percent: one spacing.
for verb in keys "keys --readings" "sweep examples/r22-larger-coil.yaml --full --uncertain 100" \
    "tune examples/r22-larger-coil.yaml examples/readings-r22.yaml"; do
    # shellcheck disable=SC2086 # words on purpose
    code=0
    "$program" $verb >>"$dir/said" || code=$?
    case $code in
    0 | 10 | 11) ;;
    *) fault "coiltrim $verb: ends with $code" ;;
    esac
done
cat "$source/README.md" "$dir/man" >>"$dir/said"
grep -nE '[0-9] %( |$|[,.;:)])' "$dir/said" >"$dir/spaced" && fault "percent with a blank: $(head -n 3 "$dir/spaced")"

# Exit codes: the same number with the same words, but for the manual's capital and final dot.
sed -n '/^Exit codes:/,$s/^  \([0-9][0-9]*\)  *\(.*\)/\1 \2/p' "$dir/help" >"$dir/codes"
[ "$(wc -l <"$dir/codes")" -gt 5 ] || fault "--help: exit codes are missing"
awk '/^\.SH EXIT STATUS/ { inside = 1; next } /^\.SH/ { inside = 0 }
     inside && /^\.B [0-9]+$/ { code = $2; next }
     inside && code != "" && !/^\./ { sub(/\.$/, ""); print code, tolower(substr($0, 1, 1)) substr($0, 2); code = "" }' \
    "$dir/man" >"$dir/man_codes"
while read -r code means; do
    grep -qxF -e "$code $means" "$dir/man_codes" || fault "coiltrim.1: exit code $code is not '$means'"
    grep -qxF -e "| $code | $means |" "$source/README.md" || fault "README.md: exit code $code is not '$means'"
done <"$dir/codes"

# Transcripts. '...' replaces lines left out.
: >"$dir/out"
shown=0
while IFS= read -r line; do
    case $line in
    '$ '*)
        sh -c "${line#'$ '}" >"$dir/out" 2>&1 </dev/null || true
        shown=$((shown + 1))
        ;;
    '' | '...') ;;
    *)
        grep -qxF -e "$line" "$dir/out" || fault "README.md: not printed any more: $line"
        ;;
    esac
done <<END
$(awk '/^```/ { inside = !inside; shown = 0; next } inside && /^\$ coiltrim/ { shown = 1 } inside && shown' "$source/README.md")
END
[ "$shown" -gt 5 ] || fault "README.md: only $shown transcripts were found"

for example in "$source"/examples/*; do
    name=examples/$(basename "$example")
    grep -q "$name" "$source/README.md" || fault "README.md: $name is not mentioned"
done
for document in README.md DEVELOPERS.md; do
    grep -oE '(\.ci|cli|examples|lib|models|packaging|plots|tests)/[A-Za-z0-9_./-]*[A-Za-z0-9_*]' "$source/$document" |
        sort -u >"$dir/paths"
    while read -r path; do
        case $path in *NAME* | *\**) continue ;; esac
        # A module is named without its .c and .h.
        [ -e "$source/$path" ] || [ -e "$source/$path.c" ] || [ -e "$source/$path.h" ] ||
            fault "$document: there is no $path"
    done <"$dir/paths"
done

echo "$(echo "$verbs" | wc -w) verbs, $shown transcripts"
[ ! -s "$faults" ]
