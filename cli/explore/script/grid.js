'use strict';
// Grid: the values the program worked out at the nodes of the sliders, and the smooth way between them.
// A place is [airflow, outdoors, humidity, load], each as the sliders show it.

const AIR = 0, OUTDOORS = 1, HUMIDITY = 2, LOAD = 3;
const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
const NO_VALUE = 4095;

// Two characters each; value = low + code * step.
function decode(figure) {
    const values = [];
    for (let i = 0; i < figure.codes.length; i += 2) {
        const code = 64 * DIGITS.indexOf(figure.codes[i]) + DIGITS.indexOf(figure.codes[i + 1]);
        values.push(code === NO_VALUE ? NaN : figure.low + code * figure.step);
    }
    return values;
}

// Slope of the curve at node i of the row of values that begins at `from`. It never overshoots.
// Source: Steffen 1990, A simple method for monotonic interpolation in one dimension, Astron.
// Astrophys. 239:443: eqs. 8 and 11 inside, the parabola through three points at an end (section 3 of
// it, from memory, unconfirmed). Beside a missing value is an end, too.
function slopeAt(x, y, from, i) {
    function wide(k) {
        return x[k + 1] - x[k];
    }
    function chord(k) {
        return k >= 0 && k + 1 < x.length ? (y[from + k + 1] - y[from + k]) / wide(k) : NaN;
    }
    const left = chord(i - 1), right = chord(i);
    if (isNaN(left)) return endSlope(right, chord(i + 1), wide(i) / (wide(i) + wide(i + 1)));
    if (isNaN(right)) return endSlope(left, chord(i - 2), wide(i - 1) / (wide(i - 1) + wide(i - 2)));
    const parabola = (left * wide(i) + right * wide(i - 1)) / (wide(i - 1) + wide(i));
    return (Math.sign(left) + Math.sign(right)) *
        Math.min(Math.abs(left), Math.abs(right), 0.5 * Math.abs(parabola));
}

// At an end: the chord there, the one after it, and the share of the first interval in both.
function endSlope(near, next, share) {
    if (isNaN(next)) return near;
    const parabola = near + share * (near - next);
    if (parabola * near <= 0) return 0;
    return Math.abs(parabola) > 2 * Math.abs(near) ? 2 * near : parabola;
}

// The value at `at`, between the nodes x, of the row of values y that begins at `from`. NaN where a
// node beside it has none.
function between(x, y, from, at) {
    const last = x.length - 1;
    const here = Math.min(Math.max(at, x[0]), x[last]);
    let i = 0;
    while (i < last - 1 && here > x[i + 1]) i++;
    const h = x[i + 1] - x[i], t = (here - x[i]) / h;
    const a = y[from + i], b = y[from + i + 1];
    if (t === 0) return a;
    if (t === 1) return b;
    if (isNaN(a) || isNaN(b)) return NaN;
    const ma = slopeAt(x, y, from, i) * h, mb = slopeAt(x, y, from, i + 1) * h;
    return a + t * (ma + t * (3 * (b - a) - 2 * ma - mb + t * (ma + mb - 2 * (b - a))));
}

// The nodes of an axis that a figure has: where it is thinned every other airflow.
function nodesOf(unit, figure, axis) {
    const at = unit.axes[axis].at;
    return figure.thinned && axis === AIR ? at.filter((v, i) => i % 2 === 0) : at;
}

// The values of a figure at all its airflows, the other sliders as they are. The last axis runs
// fastest and goes first. Kept until a slider moves.
function profile(unit, figure, place) {
    const key = place.slice(1).join();
    if (figure.key === key) return figure.profile;
    let values = figure.values || (figure.values = decode(figure));
    for (let i = figure.axes.length - 1; i >= 0 && figure.axes[i] !== AIR; i--) {
        const nodes = nodesOf(unit, figure, figure.axes[i]), shorter = [];
        for (let from = 0; from < values.length; from += nodes.length)
            shorter.push(between(nodes, values, from, place[figure.axes[i]]));
        values = shorter;
    }
    figure.key = key;
    figure.nodes = nodesOf(unit, figure, AIR);
    figure.profile = values;
    return values;
}

// NaN for a figure this unit does not have.
function valueAt(unit, name, place) {
    const figure = unit.figures[name];
    if (!figure) return NaN;
    const values = profile(unit, figure, place);
    return figure.axes[0] === AIR ? between(figure.nodes, values, 0, place[AIR]) : values[0];
}

// Lowest and highest value anywhere.
function rangeOf(figure) {
    const values = figure.values || (figure.values = decode(figure));
    const known = values.filter(v => !isNaN(v));
    return [Math.min(...known), Math.max(...known)];
}
