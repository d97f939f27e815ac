// Put into a copy of a lesson's page by check_explore, before measure.js: goes through the lesson as a
// learner does.
(function () {
    const faults = window.exploreFaults = [];
    const sliders = document.querySelectorAll('#lesson input[type=range]');
    function seen(id) {
        return document.getElementById(id).getClientRects().length > 0;
    }
    const lesson = coiltrim.data.lesson;
    if (sliders.length !== lesson.guess.length) faults.push(sliders.length + ' guesses for ' + lesson.guess.length);
    if (!document.getElementById('lesson').textContent.includes(lesson.question[0].text)) faults.push('no question');
    for (const id of ['verdict', 'charts', 'controls', 'numbers'])
        if (seen(id)) faults.push(id + ' shows before the guesses are in');
    function answered() {
        return document.getElementById('lesson').textContent.includes(lesson.answer[0].text.replace(/`/g, ''));
    }
    if (answered()) faults.push('the answer is there already');
    sliders.forEach(function (slider) {
        slider.value = slider.min;
        slider.dispatchEvent(new Event('input', {bubbles: true}));
        if (!/[0-9]/.test(slider.getAttribute('aria-valuetext'))) faults.push('a guess says nothing');
    });
    document.querySelector('button.main').click();
    if (!answered()) faults.push('the answer does not show');
    const rows = Array.from(document.querySelectorAll('.result tbody tr'));
    if (rows.length !== sliders.length) faults.push(rows.length + ' answers');
    for (const id of ['verdict', 'charts', 'controls']) if (!seen(id)) faults.push(id + ' does not show');
    // What is guessed first is in the worked answer, before and after; those numbers are held against the
    // program by tests/test_lessons.c.
    const answer = lesson.answer.map(p => p.text).join(' ');
    const cells = Array.from(rows[0].querySelectorAll('td')).map(td => td.textContent);
    for (const k of [0, 2]) if (!answer.includes(cells[k])) faults.push(cells[k] + ' is not in the worked answer');
    // A guess at the lowest end is right where the value falls.
    rows.forEach(function (row) {
        const td = Array.from(row.querySelectorAll('td')).map(d => d.textContent);
        const falls = Number(td[2].replace(/,/g, '')) < Number(td[0].replace(/,/g, ''));
        if (falls !== /down \u2713/.test(td[3])) faults.push('graded wrong: ' + row.textContent);
    });
    document.querySelectorAll('#lesson li').forEach(function (item) {
        if (item.parentElement.tagName !== 'UL') faults.push('an item outside a list: ' + item.textContent);
    });
    // A journey ends where it leads, unless a hand takes the slider on the way: frames are run by hand.
    const frames = [], browsers = window.requestAnimationFrame, air = document.getElementById('slider-0');
    window.requestAnimationFrame = frame => frames.push(frame);
    function traveled(which) {
        for (const b of document.querySelectorAll('#lesson .stops button')) if (b.textContent === 'Show ' + which) b.click();
    }
    function arrive() {
        const late = performance.now() + 5000;
        while (frames.length) frames.shift()(late);
        return air.getAttribute('aria-valuetext');
    }
    traveled('before');
    arrive();
    traveled('after');
    if (frames.length !== 1) faults.push('no journey begins');
    air.value = air.max;
    air.dispatchEvent(new Event('input', {bubbles: true}));
    const taken = air.getAttribute('aria-valuetext');
    if (arrive() !== taken) faults.push('a journey takes the slider out of the hand: ' + taken);
    traveled('after');
    if (arrive() === taken) faults.push('a journey does not arrive');
    window.requestAnimationFrame = browsers;
    document.querySelectorAll('script').forEach(function (s) { if (s !== document.currentScript) s.remove(); });
    window.exploreSays = rows.length + ' guesses, ' + cells[0] + ' to ' + cells[2];
}());
