# Completion of bash offers each verb and each option that the help knows, values and files.
# Usage: bash completion.bash COMPLETION PROGRAM
set -u
. "$1"
program=$2
bad=0
offers() { # expected word..., then -- and the words typed; the last is completed
    local expected=()
    while [ "$1" != -- ]; do
        expected+=("$1")
        shift
    done
    shift
    COMP_WORDS=("$@")
    COMP_CWORD=$(($# - 1))
    _coiltrim
    for word in "${expected[@]}"; do
        [[ " ${COMPREPLY[*]-} " == *" $word "* ]] || { echo "'$*': $word is not offered"; bad=1; }
    done
}
verbs=$("$program" --help | sed -n '/^Verbs:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[ "$(echo "$verbs" | wc -w)" -gt 9 ] || { echo "hardly any verb"; bad=1; }
for verb in $verbs; do
    offers "$verb" -- coiltrim "${verb:0:2}"
    for option in $("$program" "$verb" --help | sed -n 's/^  [ -][a-z ][ ,] --\([a-z-]*\).*/\1/p'); do
        offers "--$option" -- coiltrim "$verb" --
    done
done
offers png svg pdf -- coiltrim sweep x.yaml --format ""
offers R-410A R-407C -- coiltrim refrigerant R-4
offers outdoor.rated_capacity -- coiltrim keys outdoor.rated
cd "$(mktemp -d)" && mkdir folder && touch "a case.yaml"
offers "a case.yaml" -- coiltrim sweep "a"
offers folder -- coiltrim sweep -o ""
rm -r folder "a case.yaml" && rmdir "$PWD"
exit $bad
