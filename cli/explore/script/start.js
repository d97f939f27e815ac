// Start: reads the data, joins sliders and view, and shows where the case is.

const data = JSON.parse(document.getElementById('data').textContent);
const state = {unit: Math.max(0, data.units.findIndex(u => u.axes)), place: [], sliders: [], said: 0, trip: 0};

// Begins at the pick of the case, else at what comes nearest; where nothing balances at the rated airflow.
function begin(unit) {
    const place = unit.axes.map(a => a.now);
    if ('begin' in unit) place[AIR] = unit.begin;
    return place.map((v, a) => inside(unit.axes[a], v));
}

function inside(axis, v) {
    return Math.min(Math.max(v, axis.at[0]), axis.at[axis.at.length - 1]);
}

function show() {
    const unit = data.units[state.unit], verdict = judge(unit, state.place);
    state.sliders.forEach((slider, axis) => showSlider(slider, axis, unit, state.place));
    for (const chart of CHARTS) showChart(chart, unit, state.place);
    showLimits(unit, verdict);
    showNumbers(unit, state.place);
    const words = showVerdict(unit, verdict, state.place);
    say(words.head + '. ' + words.why);
}

// A reader hears the verdict once the slider rests.
function say(text) {
    clearTimeout(state.said);
    state.said = setTimeout(() => { document.getElementById('spoken').textContent = text; }, 500);
}

// A hand ends a journey under way, as does another unit.
function move(axis, value) {
    state.trip++;
    state.place[axis] = value;
    show();
}

function chooseUnit(i) {
    const unit = data.units[i], before = state.place;
    state.trip++;
    state.unit = i;
    state.place = before.length ? before.map((v, a) => inside(unit.axes[a], v)) : begin(unit);
    state.place[AIR] = snapped(unit, state.place[AIR]);
    state.sliders.forEach((slider, axis) => fitSlider(slider, unit.axes[axis]));
    makeStops(state.sliders[AIR].stops, unit, air => move(AIR, air));
    showRemarks(unit);
    show();
}

function start() {
    const weather = document.getElementById('weather');
    document.getElementById('units').append(makeUnits(data, chooseUnit));
    state.sliders = LABELS.map((label, axis) => makeSlider(axis, v =>
        move(axis, axis === AIR ? snapped(data.units[state.unit], v, state.place[AIR]) : v)));
    state.sliders.forEach((slider, axis) => (axis === AIR ? document.getElementById('air') : weather).append(slider.box));
    makeCharts(document.getElementById('charts'));
    if (matchMedia('(min-width: 60rem)').matches) document.getElementById('more').open = true;
    if (!data.units[state.unit].axes) return;
    document.getElementById('main').hidden = false;
    chooseUnit(state.unit);
    if (data.lesson) startLesson(data);
    addEventListener('resize', show);
}

// For tests: the values and the verdict of a unit anywhere.
function at(unit, place) {
    const values = {};
    for (const name in data.units[unit].figures) values[name] = valueAt(data.units[unit], name, place);
    const verdict = judge(data.units[unit], place);
    return {values, passes: verdict.passes, first: firstFailing(verdict)};
}

window.coiltrim = {data, at};
start();
