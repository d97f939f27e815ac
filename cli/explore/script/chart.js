// Chart: curves over airflow as SVG, drawn anew at each move. A curve is told from another by its dash
// and its marker, not by its color alone.

const HEIGHT = 200, LEFT = 50, RIGHT = 12, TOP = 10, BOTTOM = 34, SAMPLES = 64;
const MARKERS = {
    circle: 'M-5 0a5 5 0 1 0 10 0a5 5 0 1 0-10 0z', square: 'M-4.5-4.5h9v9h-9z',
    triangle: 'M0-6l5.6 10h-11.2z', diamond: 'M0-6.4l6.4 6.4l-6.4 6.4l-6.4-6.4z'
};

function svg(tag, attributes, ...children) {
    const e = document.createElementNS('http://www.w3.org/2000/svg', tag);
    for (const name in attributes) e.setAttribute(name, attributes[name]);
    e.append(...children);
    return e;
}

// Round steps, about n of them.
function ticks(low, high, n) {
    const rough = (high - low) / n, ten = Math.pow(10, Math.floor(Math.log10(rough)));
    const step = ten * [1, 2, 5, 10].find(k => k * ten >= rough);
    const list = [];
    for (let v = Math.ceil(low / step - 1e-9) * step; v <= high + 1e-9 * step; v += step)
        list.push(Math.abs(v) < 1e-9 * step ? 0 : v);
    return list;
}

function path(points) {
    let d = '', pen = false;
    for (const [x, y] of points) {
        if (isNaN(y)) { pen = false; continue; }
        d += (pen ? 'L' : 'M') + x.toFixed(1) + ' ' + y.toFixed(1);
        pen = true;
    }
    return d;
}

// A piece of a curve with its marker, for the list under the chart.
function sample(line) {
    const s = svg('svg', {class: 'sample', viewBox: '0 0 40 14', 'aria-hidden': 'true'});
    s.append(svg('path', {class: 'curve ' + line.look, d: 'M1 7H39'}));
    if (line.marker) s.append(svg('path', {class: 'marker ' + line.look, d: MARKERS[line.marker],
                                           transform: 'translate(20 7)'}));
    return s;
}

// chart: {lines: [{look, marker, at(air)}], range: [low, high], form}. air: the nodes' ends and now.
function drawChart(chart, unit, place, width) {
    const nodes = unit.axes[AIR].at, from = nodes[0], to = nodes[nodes.length - 1];
    const x = air => LEFT + (air - from) / (to - from) * (width - LEFT - RIGHT);
    const y = v => HEIGHT - BOTTOM - (v - chart.range[0]) / (chart.range[1] - chart.range[0]) *
        (HEIGHT - TOP - BOTTOM);
    const top = svg('svg', {viewBox: '0 0 ' + width + ' ' + HEIGHT, width, height: HEIGHT, role: 'img'});
    const clip = 'inside-' + chart.name;
    top.append(svg('clipPath', {id: clip}, svg('rect', {x: LEFT, y: TOP - 6, width: width - LEFT - RIGHT,
        height: HEIGHT - TOP - BOTTOM + 12})));
    drawAxes(top, chart, {x, y, from, to, width, unit});
    const inside = svg('g', {'clip-path': 'url(#' + clip + ')'});
    inside.append(svg('path', {class: 'now', d: 'M' + x(place[AIR]) + ' ' + TOP + 'V' + (HEIGHT - BOTTOM)}));
    for (const line of chart.lines) drawLine(inside, line, {x, y, from, to}, place);
    top.append(inside);
    return top;
}

function drawLine(inside, line, scale, place) {
    const points = [];
    for (let i = 0; i <= SAMPLES; i++) {
        const air = scale.from + (scale.to - scale.from) * i / SAMPLES;
        points.push([scale.x(air), scale.y(line.at(air))]);
    }
    inside.append(svg('path', {class: 'curve ' + line.look, d: path(points)}));
    const now = line.at(place[AIR]);
    if (line.marker && !isNaN(now))
        inside.append(svg('path', {class: 'marker ' + line.look, d: MARKERS[line.marker],
            transform: 'translate(' + scale.x(place[AIR]).toFixed(1) + ' ' + scale.y(now).toFixed(1) + ')'}));
}

function drawAxes(top, chart, scale) {
    const bottom = HEIGHT - BOTTOM;
    for (const v of ticks(chart.range[0], chart.range[1], 5)) {
        top.append(svg('path', {class: 'rule', d: 'M' + LEFT + ' ' + scale.y(v) + 'H' + (scale.width - RIGHT)}));
        top.append(svg('text', {x: LEFT - 6, y: scale.y(v) + 4, 'text-anchor': 'end'}, number(v, chart.form)));
    }
    for (const v of ticks(scale.from, scale.to, scale.width < 420 ? 4 : 6))
        top.append(svg('text', {x: scale.x(v), y: bottom + 16, 'text-anchor': 'middle'}, String(v)));
    for (const tap of scale.unit.taps)
        if ('air' in tap)
            top.append(svg('path', {class: 'stop', d: 'M' + scale.x(tap.air) + ' ' + bottom + 'v5'}));
    top.append(svg('text', {x: scale.width - RIGHT, y: bottom + 30, 'text-anchor': 'end', class: 'unit'},
                   'airflow, ' + scale.unit.axes[AIR].unit));
}
