// Put into a copy of an explore page by check_explore, before measure.js: holds the page's own answers
// against the library's at random places (the list `truth`, tests/explore_truth.c), moves the sliders
// as a hand and a keyboard do, and tells what is wrong by faults of its own.
(function () {
    // Allowed: 0.3 % of the capacity, 0.2 F, half a point of humidity; 2 F of superheat,
    // which has a corner where a piston begins to flood, and 1 % of the power, which follows it.
    const heat = ['total', 'sensible', 'latent', 'carried'];
    const degrees = ['suction', 'surface', 'supply', 'condensing'];
    const metric = coiltrim.data.metric;
    const worst = {}, faults = window.exploreFaults = [];
    let verdicts = 0, wrong = 0;

    function error(name, got, t) {
        if (heat.includes(name)) return 100 * Math.abs(got - t.values[name]) / t.values.total;
        if (name === 'watts') return 100 * Math.abs(got / t.values.watts - 1);
        const degree = name === 'superheat' || degrees.includes(name);
        return Math.abs(got - t.values[name]) * (degree && metric ? 1.8 : 1);
    }
    function allowed(name) {
        if (heat.includes(name)) return 0.3;
        if (degrees.includes(name)) return 0.2;
        return {settled_humidity: 0.5, superheat: 2, watts: 1}[name];
    }
    for (const t of truth) {
        const page = coiltrim.at(t.unit, t.place);
        const there = 'total' in t.values;
        if (there !== !isNaN(page.values.total))
            faults.push('settles there and not here: unit ' + t.unit + ' at ' + t.place);
        if (!there || isNaN(page.values.total)) continue;
        for (const name in t.values) {
            const e = error(name, page.values[name], t);
            worst[name] = Math.max(worst[name] || 0, e);
            if (!(e <= allowed(name)))
                faults.push(name + ' is off by ' + e.toFixed(3) + ': unit ' + t.unit + ' at ' + t.place);
        }
        if (t.close) continue;
        verdicts++;
        if (page.first === t.first && page.passes === t.passes) continue;
        wrong++;
        faults.push('verdict "' + page.first + '" for "' + t.first + '": unit ' + t.unit + ' at ' + t.place);
    }

    // ---- Where it opens: on the pick, which passes; on its speed where there are speeds ----
    const first = coiltrim.data.units[0];
    const says = document.getElementById('answer').textContent + ' ' + document.getElementById('why').textContent;
    const air = document.getElementById('slider-0');
    if (Math.abs(Number(air.value) - first.begin) > Number(air.step)) faults.push('opens at ' + air.value + ', not ' + first.begin);
    if (first.picked !== says.startsWith('\u2713')) faults.push('the pick of the case, and: ' + says);
    if (first.taps.some(t => 'air' in t) && !document.querySelector('.stops button[aria-pressed=true]'))
        faults.push('opens on no speed');
    const remarks = Array.from(document.querySelectorAll('#remarks li')).map(e => e.textContent);
    if (remarks.join() !== first.remarks.join()) faults.push('remarks: ' + remarks.join());
    if (remarks.some(r => !/^(Note|Question|Caution|Reminder): ./.test(r))) faults.push('a remark is cut: ' + remarks.join('|'));

    // A piston that floods on a hotter day is not simply good.
    if (first.picked && remarks.some(r => /piston leaves less than/.test(r)) !== says.includes('liquid may reach the compressor'))
        faults.push('the superheat behind the piston, and: ' + says);

    // ---- Sliders, buttons, what is said ----
    const sliders = Array.from(document.querySelectorAll('input[type=range]'));
    function set(slider, value) {
        slider.value = value;
        slider.dispatchEvent(new Event('input', {bubbles: true}));
    }
    function numbers() {
        return document.getElementById('charts').textContent + document.getElementById('numbers').textContent;
    }
    // On a wide screen they are beside the charts, not below them.
    const top = name => document.getElementById(name).getBoundingClientRect().top;
    if (window.innerWidth >= 960 && Math.abs(top('controls') - top('charts')) > 40)
        faults.push('the sliders begin ' + Math.round(top('controls') - top('charts')) + ' px below the charts');
    if (sliders.length !== 4) faults.push('there are ' + sliders.length + ' sliders');
    sliders.forEach(function (slider) {
        const before = numbers(), was = slider.value;
        if (!slider.labels.length || !slider.labels[0].textContent) faults.push('a slider has no label');
        if (slider.getBoundingClientRect().height < 44 && slider.offsetParent) faults.push('a slider is less than 44 px high');
        set(slider, slider.value === slider.min ? slider.max : slider.min);
        const text = slider.getAttribute('aria-valuetext');
        if (!/[0-9] (degrees|percent|Btu per hour|kilowatts|cubic feet per minute|liters per second)/.test(text))
            faults.push('a slider says "' + text + '"');
        if (numbers() === before) faults.push('nothing moves with ' + slider.id);
        set(slider, was);
    });
    document.querySelectorAll('.stops button:not(:disabled)').forEach(function (button) {
        button.click();
        if (button.getAttribute('aria-pressed') !== 'true') faults.push('a speed is not taken: ' + button.textContent);
        if (!sliders[0].getAttribute('aria-valuetext').includes('speed ' + button.textContent))
            faults.push('the slider does not say its speed: ' + button.textContent);
        // One step of the keyboard leaves the speed.
        const air = sliders[0], said = air.getAttribute('aria-valuetext');
        if (air.value === air.max) air.stepDown();
        else air.stepUp();
        set(air, air.value);
        if (air.getAttribute('aria-valuetext') === said || air.getAttribute('aria-valuetext').includes('speed ' + button.textContent))
            faults.push('the keyboard cannot leave a speed: ' + button.textContent);
        button.click();
    });
    document.querySelectorAll('input[name=unit]:not(:disabled)').forEach(function (unit) {
        unit.click();
        if (!document.getElementById('answer').textContent) faults.push('a unit has no verdict');
    });
    document.querySelectorAll('svg[role=img]').forEach(function (chart) {
        if (!/Now: .*[0-9]/.test(chart.getAttribute('aria-label'))) faults.push('a chart says nothing');
    });
    if (document.querySelector('[aria-live]') === null) faults.push('the verdict is not announced');
    // Curves differ by dash, and each has its marker.
    document.querySelectorAll('figure').forEach(function (figure) {
        const dashes = Array.from(figure.querySelectorAll('.sample')).map(function (s) {
            const style = getComputedStyle(s.querySelector('.curve'));
            return style.strokeDasharray + ' ' + style.strokeWidth;
        });
        if (new Set(dashes).size !== dashes.length) faults.push('two curves look alike but for color');
    });
    document.querySelectorAll('script').forEach(function (s) { if (s !== document.currentScript) s.remove(); });
    if (!verdicts) faults.push('no verdict was compared');
    if (!('total' in worst)) faults.push('no value was compared');
    window.exploreSays = 'worst errors: ' + Object.keys(worst).map(function (name) {
        return name + ' ' + worst[name].toFixed(3);
    }).join(', ') + '; ' + verdicts + ' verdicts, ' + wrong + ' wrong';
}());
