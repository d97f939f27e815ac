// Lesson: a question, a guess for each value by a slider, then the answer, with a way back and forth
// between before and after. Nothing of the answer is shown before the guesses are in.

// The place a lesson names; what it leaves out is the case's.
function lessonPlace(data, where) {
    return data.units[where.unit].axes.map(axis => axis.name in where ? inside(axis, where[axis.name]) : axis.now);
}

function labelOf(name) {
    if (['total', 'sensible', 'latent'].includes(name)) return name + ' capacity';
    for (const chart of CHARTS)
        for (const line of chart.lines) if (line.figure === name) return chart.name === 'humidity' ? chart.title : line.label;
    const number = NUMBERS.find(n => n[0] === name);
    return number ? number[1] : name;
}

function capital(text) {
    return text[0].toUpperCase() + text.slice(1);
}

// Paragraphs, and items that follow each other as one list.
function prose(box, pieces) {
    let list = null;
    for (const piece of pieces) {
        if (!piece.item) list = null;
        else if (!list) box.append(list = element('ul', {}));
        (list || box).append(element(piece.item ? 'li' : 'p', {}, piece.text.replace(/`/g, '')));
    }
    return box;
}

// Steps a hand can set and an eye can read.
function guessStep(low, high) {
    const [first, second] = ticks(low, high, 120);
    return second === undefined ? 1 : second - first;
}

function makeGuess(unit, name, before, range) {
    const form = unit.figures[name], id = 'guess-' + name, step = guessStep(range[0], range[1]);
    const input = element('input', {type: 'range', id});
    input.min = Math.floor(range[0] / step) * step;
    input.max = Math.ceil(range[1] / step) * step;
    input.step = step;
    input.value = before;
    const output = element('output', {for: id});
    const guess = {name, form, before, input, moved: false, value: before};
    const told = () => {
        output.textContent = guess.moved ? shown(guess.value, form) : 'as before';
        input.setAttribute('aria-valuetext', guess.moved ? spoken(guess.value, form) : 'as before, ' + spoken(before, form));
    };
    input.addEventListener('input', () => {
        guess.moved = true;
        guess.value = Number(input.value);
        told();
    });
    told();
    guess.box = element('div', {class: 'slider'}, element('div', {class: 'head'},
        element('label', {for: id}, capital(labelOf(name))), element('span', {}, 'before: ' + shown(before, form)),
        element('span', {}, 'your guess: ', output)), input);
    return guess;
}

// Both ends of everything the value can be, in both units of the lesson.
function guessRange(units, name) {
    const all = units.map(u => rangeOf(u.figures[name]));
    return [Math.min(...all.map(r => r[0])), Math.max(...all.map(r => r[1]))];
}

// What a guess is worth: the way it goes first, then how far.
function graded(guess, after) {
    const half = 0.5 * Math.pow(10, -guess.form.decimals), way = after - guess.before, guessed = guess.value - guess.before;
    const same = Math.abs(way) <= half;
    const right = same ? Math.abs(guessed) <= half : Math.sign(way) === Math.sign(guessed);
    return {right, words: same ? 'stays' : way > 0 ? 'up' : 'down'};
}

function resultTable(guesses, after) {
    const head = element('tr', {}, ...['', 'before', 'guess', 'after', 'it goes'].map(t =>
        element('th', {scope: 'col'}, t)));
    const rows = guesses.map(g => {
        const grade = graded(g, after[g.name]);
        return element('tr', {class: grade.right ? 'passes' : 'fails'}, element('th', {scope: 'row'}, capital(labelOf(g.name)) + ', ' + unitOf(g.form)),
            ...[g.before, g.value, after[g.name]].map(v => element('td', {}, number(v, g.form))),
            element('td', {}, grade.words + (grade.right ? ' \u2713' : ' \u2717'),
                    element('span', {class: 'unseen'}, grade.right ? ', as you guessed' : ', not as you guessed')));
    });
    return element('table', {class: 'result'}, element('caption', {tabindex: '-1'}, 'Your guesses'),
                   element('thead', {}, head), element('tbody', {}, ...rows));
}

// From where the sliders are to another place, in a second; at once where no motion is wanted.
function travel(to) {
    const from = state.place.slice(), began = performance.now(), trip = ++state.trip;
    const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
    if (still) return goTo(to);
    function frame(now) {
        if (trip !== state.trip) return;
        const t = Math.min(1, (now - began) / 1000), eased = t * t * (3 - 2 * t);
        goTo(to.map((v, i) => t < 1 ? from[i] + eased * (v - from[i]) : v));
        if (t < 1) requestAnimationFrame(frame);
    }
    requestAnimationFrame(frame);
}

function goTo(place) {
    state.place = place;
    show();
}

function goToUnit(i) {
    const input = document.getElementById('unit-' + i);
    if (input) input.checked = true;
    chooseUnit(i);
}

function showAnswer(data, box, guesses) {
    const lesson = data.lesson, places = {before: lessonPlace(data, lesson.before), after: lessonPlace(data, lesson.after)};
    const unit = data.units[lesson.after.unit], after = {};
    for (const g of guesses) after[g.name] = valueAt(unit, g.name, places.after);
    const way = which => element('button', {type: 'button'}, which === 'before' ? 'Show before' : 'Show after');
    const before = way('before'), then = way('after');
    const go = which => {
        if (state.unit !== lesson[which].unit) goToUnit(lesson[which].unit);
        travel(places[which]);
    };
    before.addEventListener('click', () => go('before'));
    then.addEventListener('click', () => go('after'));
    const table = resultTable(guesses, after);
    const worked = element('details', {}, element('summary', {}, 'The worked answer'));
    worked.open = matchMedia('(min-width: 60rem)').matches;
    box.replaceChildren(table, element('div', {class: 'stops'}, before, then), prose(worked, lesson.answer));
    document.getElementById('main').classList.remove('asking');
    show();
    table.caption.focus();
    go('after');
}

// Puts the question over the page and the sliders where it begins.
function startLesson(data) {
    const lesson = data.lesson, box = document.getElementById('lesson'), work = element('div', {});
    const unit = data.units[lesson.before.unit], place = lessonPlace(data, lesson.before);
    if (lesson.before.unit !== state.unit) goToUnit(lesson.before.unit);
    goTo(place);
    document.getElementById('main').classList.add('asking');
    const units = [unit, data.units[lesson.after.unit]];
    const guesses = lesson.guess.filter(name => units.every(u => u.figures[name])).map(name =>
        makeGuess(unit, name, valueAt(unit, name, place), guessRange(units, name)));
    const button = element('button', {type: 'button', class: 'main'}, 'Show the answer');
    button.addEventListener('click', () => showAnswer(data, work, guesses));
    work.append(...guesses.map(g => g.box), button);
    if (lesson.hints.length)
        work.prepend(prose(element('details', {}, element('summary', {}, 'Hints')), lesson.hints));
    box.append(element('h2', {}, lesson.title), prose(element('div', {}), lesson.question),
               element('p', {class: 'route'}, route(data, lesson)), work);
    box.hidden = false;
}

// "From 400 cfm/ton to 300 cfm/ton. What happens? ..."
function route(data, lesson) {
    const said = [];
    data.units[0].axes.forEach((axis, i) => {
        if (axis.name in lesson.before && axis.name in lesson.after && lesson.before[axis.name] !== lesson.after[axis.name])
            said.push(LABELS[i].toLowerCase() + ' from ' + shown(lesson.before[axis.name], axis) + ' to ' +
                      shown(lesson.after[axis.name], axis));
    });
    if (lesson.before.unit !== lesson.after.unit)
        said.push('from ' + data.units[lesson.before.unit].name + ' to ' + data.units[lesson.after.unit].name);
    return 'On this page: ' + said.join(', ') + '. Move each slider to where you think the value goes.';
}
