// Controls: the switch between indoor units, the sliders, the blower's speeds as stops.

const LABELS = ['Airflow', 'Outdoors', 'Indoor humidity', 'Sensible load'];
const NEAR_STOP = 0.012; // of the slider: close enough to be that speed

function element(tag, attributes, ...children) {
    const e = document.createElement(tag);
    for (const name in attributes) e.setAttribute(name, attributes[name]);
    e.append(...children);
    return e;
}

// Text of the case: data, never markup, and its direction of writing stays inside.
function named(text) {
    return element('bdi', {}, text);
}

function makeUnits(data, choose) {
    const set = element('fieldset', {class: 'units'}, element('legend', {}, 'Indoor unit'));
    data.units.forEach((unit, i) => {
        const input = element('input', {type: 'radio', name: 'unit', id: 'unit-' + i, value: i});
        input.checked = i === 0;
        input.disabled = !unit.axes;
        input.addEventListener('change', () => choose(i));
        const label = element('label', {for: 'unit-' + i}, named(unit.name));
        if (unit.why) label.append(' (' + unit.why + ')');
        set.append(element('span', {class: 'choice'}, input, label));
    });
    set.hidden = data.units.length < 2;
    return set;
}

// A slider for one axis; `moved` gets the value, a speed's own where the slider comes close to one.
function makeSlider(axis, moved) {
    const id = 'slider-' + axis;
    const input = element('input', {type: 'range', id});
    const output = element('output', {for: id});
    const strip = element('div', {class: 'strip', 'aria-hidden': 'true'});
    const stops = element('div', {class: 'stops'});
    const box = element('div', {class: 'slider'},
        element('div', {class: 'head'}, element('label', {for: id}, LABELS[axis]), output));
    if (axis === AIR) box.append(strip);
    box.append(input);
    if (axis === AIR) box.append(stops);
    input.addEventListener('input', () => moved(Number(input.value)));
    return {box, input, output, strip, stops};
}

// The ends and steps of a unit's axis. The step begins at a round number.
function fitSlider(slider, form) {
    const low = form.at[0], high = form.at[form.at.length - 1], step = form.step;
    slider.input.step = step;
    slider.input.min = (Math.ceil(low / step - 1e-6) * step).toFixed(4);
    slider.input.max = (Math.floor(high / step + 1e-6) * step).toFixed(4);
}

// Only on the way towards a speed: a step of the keyboard is shorter than this distance, and would
// never get away from one.
function snapped(unit, air, was = Infinity) {
    const at = unit.axes[AIR].at, close = NEAR_STOP * (at[at.length - 1] - at[0]);
    const tap = unit.taps.find(t => 'air' in t && Math.abs(t.air - air) <= close &&
        Math.abs(t.air - air) <= Math.abs(t.air - was));
    return tap ? tap.air : air;
}

function makeStops(stops, unit, choose) {
    stops.replaceChildren(...unit.taps.map(tap => {
        const button = element('button', {type: 'button'}, named(tap.name));
        if ('air' in tap) button.addEventListener('click', () => choose(tap.air));
        else {
            button.disabled = true;
            button.title = tap.why;
        }
        return button;
    }));
}

// Where along the slider the verdict passes (full) and fails (hollow).
function drawStrip(strip, unit, place) {
    const at = unit.axes[AIR].at, low = at[0], high = at[at.length - 1], n = 80;
    const top = svg('svg', {viewBox: '0 0 ' + n + ' 6', preserveAspectRatio: 'none'});
    for (let i = 0, from = 0, was; i <= n; i++) {
        const here = place.slice();
        here[AIR] = low + (high - low) * (i + 0.5) / n;
        const passes = i < n ? judge(unit, here).passes : undefined;
        if (i > 0 && passes !== was) {
            top.append(svg('rect', {class: was ? 'passes' : 'fails', x: from, y: 0, width: i - from, height: 6}));
            from = i;
        }
        was = passes;
    }
    strip.replaceChildren(top);
}
