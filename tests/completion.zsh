# Completion of zsh, typed into a terminal: zsh completion.zsh FOLDER
zmodload zsh/zpty || exit 1
integer bad=0
# What zsh shows after `$1` and a tab must have each further word.
offers() {
    local shown all='' word
    zpty -w -n inner "$1"$'\t'
    repeat 100; do
        sleep 0.1
        while zpty -r -t inner shown; do all+=$shown; done
        [[ $all == *"$2"* ]] && break
    done
    for word in "${@:2}"; do
        [[ $all == *"$word"* ]] || { print "'$1': $word is not offered"; bad=1; }
    done
    zpty -w -n inner $'\x15' # the line is cleared
    sleep 0.2
    while zpty -r -t inner shown; do :; done
}
zpty -b inner zsh -f -i
zpty -w inner "fpath=(${1:a} \$fpath); autoload -Uz compinit; compinit -u -D; PS1='> '; unsetopt zle_bracketed_paste; setopt no_always_last_prompt list_rows_first; LISTMAX=9999"
sleep 2
while zpty -r -t inner shown; do :; done
offers 'coiltrim ' sweep compare refrigerant
offers 'coiltrim sweep --' --format --output --json
offers 'coiltrim sweep x.yaml --format ' png svg pdf
offers 'coiltrim refrigerant R-4' R-410A R-407C
zpty -d inner
exit $bad
