// Words: values and verdicts as people read and hear them.

const UNITS_IN_WORDS = {
    'F': 'degrees Fahrenheit', 'C': 'degrees Celsius', 'K': 'kelvin', '%': 'percent',
    'Btu/h': 'Btu per hour', 'kW': 'kilowatts', 'cfm/ton': 'cubic feet per minute per ton',
    'cfm': 'cubic feet per minute', 'L/s': 'liters per second', 'L/s per ton': 'liters per second per ton'
};

function number(v, form) {
    const to = form.round && Math.abs(v) >= 100 ? form.round : 0;
    const text = (to ? to * Math.round(v / to) : v).toFixed(form.decimals);
    const parts = text.replace(/^-(0\.?0*)$/, '$1').split('.');
    parts[0] = parts[0].replace(/\B(?=(\d{3})+$)/g, ',');
    return parts.join('.');
}

function unitOf(form) {
    return form.unit === 'F' || form.unit === 'C' ? '\u00b0' + form.unit : form.unit;
}

function shown(v, form) {
    if (isNaN(v)) return 'not known';
    if (form.unit === '%') return number(v, form) + '%';
    return number(v, form) + (form.unit ? '\u00a0' + unitOf(form) : '');
}

function spoken(v, form) {
    return isNaN(v) ? 'not known' : number(v, form) + ' ' + (UNITS_IN_WORDS[form.unit] || form.unit);
}

// "net sensible capacity 22,860 Btu/h, the load needs 24,000 Btu/h: short by 1,140 Btu/h".
function reason(one, unit) {
    const limit = one.limit, value = limit.measured ? shown(one.value, limit) + ', ' : '';
    const by = shown(Math.abs(one.slack), unit.figures[limit.figure]).replace(/%$/, ' points');
    if (!limit.measured) return limit.against;
    return limit.measured + ' ' + value + limit.against + ' ' + shown(one.bound, limit) +
        (one.fails ? ': ' + (limit.at_most ? 'over' : 'short') + ' by ' + by : '');
}

// How much is left, or short.
function spare(one, unit) {
    const by = shown(Math.abs(one.slack), unit.figures[one.limit.figure]).replace(/%$/, ' points');
    if (!one.fails && one.more_load > 0)
        return 'the load may grow by ' + shown(one.more_load, unit.axes[LOAD]);
    if (!one.limit.measured) return one.fails ? one.limit.against : by + ' of superheat';
    return one.fails ? (one.limit.at_most ? 'over by ' : 'short by ') + by : by + ' to spare';
}

function airflow(unit, place) {
    const tap = tapAt(unit, place[AIR]), per = unit.axes[AIR];
    const actual = valueAt(unit, 'airflow', place);
    return {
        tap: tap ? tap.name : '',
        shown: (isNaN(actual) ? '' : shown(actual, unit.figures.airflow) + ', ') + shown(place[AIR], per),
        spoken: (tap ? 'speed ' + tap.name + ', ' : '') +
            (isNaN(actual) ? '' : spoken(actual, unit.figures.airflow) + ', ') + spoken(place[AIR], per)
    };
}

// A piston that leaves little superheat here, or on the hotter day the report looks at; '' for none.
function littleSuperheat(unit, place) {
    if (!unit.piston) return '';
    const form = unit.figures.superheat, hot = place.slice();
    const now = valueAt(unit, 'superheat', place);
    if (now < unit.piston.least)
        return 'Superheat is ' + shown(now, form) + ', under ' + shown(unit.piston.least, form) +
            ': liquid may reach the compressor.';
    if (!('hot' in unit.piston)) return '';
    hot[OUTDOORS] = inside(unit.axes[OUTDOORS], Math.max(unit.piston.hot, place[OUTDOORS]));
    const then = valueAt(unit, 'superheat', hot);
    return then < unit.piston.least ? 'At ' + shown(hot[OUTDOORS], unit.axes[OUTDOORS]) +
        ' outdoors superheat falls to ' + shown(then, form) + ': liquid may reach the compressor.' : '';
}

// The verdict as a headline and what stands behind it.
function verdictWords(unit, verdict, place) {
    if (unit.refusal) return {good: false, head: 'Must not be installed', why: unit.refusal.trim()};
    if (!verdict.settles)
        return {good: false, head: 'Fails: the equipment does not settle', why: unit.trouble || ''};
    if (!verdict.passes)
        return {good: false, head: 'Fails: ' + verdict.failing.map(f => f.limit.name).join(', '),
                why: reason(verdict.failing[0], unit)};
    const little = littleSuperheat(unit, place);
    if (little) return {good: true, head: 'Passes every limit, but check the superheat', why: little};
    if (verdict.advice.length)
        return {good: true, head: 'Passes every limit', why: 'Advice: ' + reason(verdict.advice[0], unit)};
    return {good: true, head: 'Passes every limit', why: verdict.limits.filter(l => l.limit.decides).slice(0, 1)
        .map(l => l.limit.name + ': ' + spare(l, unit)).join()};
}
