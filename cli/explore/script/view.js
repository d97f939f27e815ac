// View: everything that follows from where the sliders are.

// The charts: lines with the figure each follows. `value` for one that is the same at all airflows.
const CHARTS = [
    {name: 'capacity', title: 'Capacity', lines: [
        {figure: 'total', label: 'total', look: 'one', marker: 'circle'},
        {figure: 'sensible', label: 'sensible', look: 'two', marker: 'square'},
        {figure: 'latent', label: 'latent', look: 'three', marker: 'triangle'},
        {figure: 'carried', label: 'largest load it carries', look: 'four', marker: 'diamond'},
        {label: 'sensible load', look: 'bound', value: (unit, place) => place[LOAD], form: unit => unit.axes[LOAD]}]},
    {name: 'coil', title: 'Coil temperature', lines: [
        {figure: 'suction', label: 'saturated suction', look: 'one', marker: 'circle'},
        {figure: 'surface', label: 'coldest surface', look: 'two', marker: 'square'},
        {figure: 'dew_point', label: 'dew point of the return air', look: 'three', marker: 'triangle'},
        {label: 'frost limit', look: 'bound', value: unit => boundOf(unit, 'frost'), form: unit => unit.figures.suction}]},
    {name: 'humidity', title: 'Humidity the house settles at', lines: [
        {figure: 'settled_humidity', label: 'settles at', look: 'one', marker: 'circle'},
        {label: 'ceiling', look: 'bound', value: unit => boundOf(unit, 'settled_humidity'),
         form: unit => unit.figures.settled_humidity}]}
];
const NUMBERS = [['supply', 'Supply air'], ['condensing', 'Condensing temperature'],
    ['superheat', 'Superheat at the coil'], ['water', 'Water taken out'], ['dry_share', 'Coil that stays dry'],
    ['static', 'External static'], ['watts', 'Power, all of it']];

function boundOf(unit, token) {
    const limit = unit.limits.find(l => l.limit === token);
    return limit ? limit.bound : NaN;
}

// The lines of a chart that this unit has, each ready to be asked at an airflow.
function linesOf(chart, unit, place) {
    return chart.lines.filter(l => l.figure ? unit.figures[l.figure] : !isNaN(l.value(unit, place))).map(l => ({
        ...l, form: l.figure ? unit.figures[l.figure] : l.form(unit),
        at: air => l.figure ? valueAt(unit, l.figure, [air, ...place.slice(1)]) : l.value(unit, place)
    }));
}

// From the lowest to the highest value anywhere, so that nothing but the curves moves.
function rangeOfChart(chart, unit, lines) {
    const seen = [];
    for (const l of lines) {
        if (l.figure) seen.push(...rangeOf(unit.figures[l.figure]));
        else if (chart.name !== 'capacity') seen.push(l.at(0));
    }
    if (chart.name === 'capacity') seen.push(0, unit.axes[LOAD].at[unit.axes[LOAD].at.length - 1]);
    const low = Math.min(...seen), high = Math.max(...seen), room = 0.03 * (high - low);
    return [chart.name === 'capacity' ? Math.min(0, low) : low - room, high + room];
}

function showChart(chart, unit, place) {
    const lines = linesOf(chart, unit, place);
    chart.box.hidden = !lines.some(l => l.figure);
    if (chart.box.hidden) return;
    chart.caption.textContent = chart.title + ', ' + unitOf(lines[0].form);
    const range = rangeOfChart(chart, unit, lines), width = Math.max(280, chart.picture.clientWidth);
    const drawn = drawChart({name: chart.name, lines, range, form: {decimals: data.metric && chart.name === 'capacity' ? 1 : 0}},
                            unit, place, width);
    const now = lines.map(l => l.label + ' ' + spoken(l.at(place[AIR]), l.form));
    drawn.setAttribute('aria-label', chart.title + ' over airflow. Now: ' + now.join(', ') + '.');
    chart.picture.replaceChildren(drawn);
    chart.key.replaceChildren(...lines.map(l => element('li', {}, sample(l), element('span', {}, l.label),
        element('b', {}, shown(l.at(place[AIR]), l.form)))));
}

function makeCharts(place) {
    for (const chart of CHARTS) {
        chart.picture = element('div', {class: 'picture'});
        chart.key = element('ul', {class: 'key'});
        chart.caption = element('figcaption', {}, chart.title);
        chart.box = element('figure', {}, chart.caption, chart.picture, chart.key);
        place.append(chart.box);
    }
}

function showVerdict(unit, verdict, place) {
    const words = verdictWords(unit, verdict, place), box = document.getElementById('verdict');
    box.className = words.good ? 'passes' : 'fails';
    document.getElementById('answer').textContent = (words.good ? '\u2713 ' : '\u2717 ') + words.head;
    document.getElementById('why').textContent = words.why && capital(words.why);
    return words;
}

// What the report says of the pick; it does not follow the sliders.
function showRemarks(unit) {
    const head = unit.picked ? 'For the pick, in the weather of the case' : 'In the weather of the case';
    document.getElementById('remarks').replaceChildren(element('h2', {}, head),
        element('ul', {}, ...unit.remarks.map(text => element('li', {}, named(text)))));
    document.getElementById('remarks').hidden = !unit.remarks.length;
}

function showLimits(unit, verdict) {
    const rows = verdict.settles ? verdict.limits : [];
    document.getElementById('limits').replaceChildren(...rows.map(one => element('tr', {class: one.fails ? 'fails' : 'passes'},
        element('td', {}, one.fails ? '\u2717' : '\u2713',
                element('span', {class: 'unseen'}, one.fails ? ' fails' : ' passes')),
        element('th', {scope: 'row'}, one.limit.name + (one.limit.decides ? '' : ' (advice)')),
        element('td', {}, spare(one, unit)))));
}

function showNumbers(unit, place) {
    const has = NUMBERS.filter(([name]) => unit.figures[name]);
    document.getElementById('numbers').replaceChildren(...has.map(([name, label]) => element('div', {},
        element('dt', {}, label), element('dd', {}, shown(valueAt(unit, name, place), unit.figures[name])))));
}

function showSlider(slider, axis, unit, place) {
    const form = unit.axes[axis], air = axis === AIR ? airflow(unit, place) : undefined;
    slider.input.value = place[axis];
    slider.output.replaceChildren(air ? air.shown : shown(place[axis], form));
    slider.input.setAttribute('aria-valuetext', air ? air.spoken : spoken(place[axis], form));
    if (!air) return;
    if (air.tap) slider.output.prepend(named(air.tap), ': ');
    drawStrip(slider.strip, unit, place);
    unit.taps.forEach((tap, i) => slider.stops.children[i].setAttribute('aria-pressed', tap.air === place[AIR]));
}
