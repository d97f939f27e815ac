# Completion of fish: fish --no-config completion.fish FILE
source $argv[1]
set bad 0
function offers
    set -l words (complete -C "$argv[1]" | string replace -r '\t.*' '')
    for word in $argv[2..]
        contains -- $word $words; or begin; echo "'$argv[1]': $word is not offered"; set -g bad 1; end
    end
end
offers 'coiltrim sw' sweep
offers 'coiltrim sweep --fo' --format
offers 'coiltrim sweep x --format ' png svg pdf
offers 'coiltrim refrigerant R-4' R-410A R-407C
offers 'coiltrim keys outdoor.rated' outdoor.rated_capacity
exit $bad
