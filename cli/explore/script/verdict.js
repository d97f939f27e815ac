// Verdict: what the program judged, between the points where it judged it. A limit passes where its
// slack is 0 or more; the script knows no limit's value. A bound that is a load moves with the load's
// slider, by `per_load` (1 and the margin), and takes as much from the slack.

function tapAt(unit, air) {
    return unit.taps.find(t => t.air === air);
}

// One way to fail a limit. The static at a blower speed is judged by that speed's own table.
function judgeOne(unit, limit, place) {
    const more = limit.per_load ? limit.per_load * (place[LOAD] - unit.axes[LOAD].now) : 0;
    const slack = valueAt(unit, limit.figure, place) - more, bound = limit.bound + more;
    const tap = limit.limit === 'external_static' ? tapAt(unit, place[AIR]) : undefined;
    if (tap && 'static_fails' in tap)
        return {limit, value: tap.static, bound: tap.static_bound,
                slack: tap.static_fails ? -Math.abs(tap.static_bound - tap.static) : slack,
                fails: tap.static_fails};
    // What the load may still grow by: as the load grows the house gets drier and it carries more.
    const more_load = limit.limit === 'sensible_load' ? valueAt(unit, 'carried', place) - place[LOAD] : NaN;
    return {limit, more_load, value: limit.at_most ? bound - slack : bound + slack, bound, slack, fails: slack < 0};
}

// All limits that are judged here, in the library's order; of several ways to fail one, the worst.
// settles: the equipment has a balance.
function judge(unit, place) {
    const settles = !isNaN(valueAt(unit, 'total', place)), limits = [];
    for (const limit of unit.limits) {
        const one = judgeOne(unit, limit, place);
        const before = limits.findIndex(l => l.limit.limit === limit.limit);
        if (isNaN(one.slack)) continue;
        if (before < 0) limits.push(one);
        else if (worse(one, limits[before])) limits[before] = one;
    }
    const failing = limits.filter(l => l.fails && l.limit.decides);
    return {settles, limits, failing, passes: settles && !failing.length && !unit.refusal,
            advice: limits.filter(l => l.fails && !l.limit.decides)};
}

// Slacks of one kind compare by size; of a valve's or piston's two ends only one can fail.
function worse(a, b) {
    return a.fails !== b.fails ? a.fails : a.slack < b.slack;
}

// The name of what fails first, '' when all passes.
function firstFailing(verdict) {
    if (!verdict.settles) return 'balance';
    return verdict.failing.length ? verdict.failing[0].limit.limit : '';
}
