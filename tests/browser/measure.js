// Put into a copy of a page by check_pages; tells the frame around it the width, the number of faults
// and what they are.
(function () {
    var faults = [], wide = window.innerWidth;
    function name(e) {
        return e.tagName + ' "' + (e.textContent || '').replace(/\s+/g, ' ').trim().slice(0, 40) + '"';
    }
    if (document.documentElement.scrollWidth > wide) {
        faults.push('the page is ' + document.documentElement.scrollWidth + ' wide');
    }
    document.body.querySelectorAll('*').forEach(function (e) {
        var r = e.getBoundingClientRect();
        if (e.ownerSVGElement) return;
        if (r.width > 0 && (r.right > wide + 0.5 || r.left < -0.5)) faults.push('sticks out: ' + name(e));
        if (e.matches('p,li,td,th,h1,h2,h3,caption,dd,dt') && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0)
            faults.push('clipped: ' + name(e));
    });
    document.querySelectorAll('td,th').forEach(function (e) {
        var table = e.closest('table').getBoundingClientRect(), box = e.getBoundingClientRect();
        if (box.width > 0 && box.right > e.closest('section').getBoundingClientRect().right + 0.5)
            faults.push('leaves its part: ' + name(e) + ' of ' + table.width);
    });
    document.querySelectorAll('svg').forEach(function (svg) {
        var frame = svg.getBoundingClientRect(), texts = [];
        svg.querySelectorAll('text').forEach(function (t) {
            if (t.textContent.trim()) texts.push(t);
        });
        var size = parseFloat(getComputedStyle(texts[0]).fontSize) * frame.width / svg.viewBox.baseVal.width;
        if (!(size >= 10)) faults.push('plot text is only ' + size.toFixed(1) + ' px');
        var boxes = texts.map(function (t) { return t.getBoundingClientRect(); });
        boxes.forEach(function (a, i) {
            if (a.left < frame.left - 0.5 || a.right > frame.right + 0.5 || a.top < frame.top - 0.5 ||
                a.bottom > frame.bottom + 0.5) faults.push('plot text cut: ' + name(texts[i]));
            boxes.slice(i + 1).forEach(function (b, k) {
                // A line of text is taller than its letters: two pixels may touch.
                if (a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 2 && b.top < a.bottom - 2)
                    faults.push('plot texts overlap: ' + name(texts[i]) + ' and ' + name(texts[i + 1 + k]));
            });
        });
    });
    // The numbers of the blower's speeds stand over the speeds' marks.
    document.querySelectorAll('svg').forEach(function (svg) {
        var frame = svg.getBoundingClientRect(), marks = [];
        function middle(e) {
            var r = e.getBoundingClientRect();
            return (r.left + r.right) / 2;
        }
        svg.querySelectorAll('use').forEach(function (u) {
            if (!u.closest('defs') && /gpPt(5|12)$/.test(u.getAttribute('href'))) marks.push(middle(u));
        });
        svg.querySelectorAll('text').forEach(function (t) {
            var over = t.getBoundingClientRect().bottom - frame.top < 0.12 * frame.height;
            if (!over || !/^ *[0-9]+ *$/.test(t.textContent)) return;
            if (!marks.some(function (m) { return Math.abs(m - middle(t)) < 3; }))
                faults.push('no speed under the number ' + name(t));
        });
    });
    if (/was-here/.test(document.title) && !/touch/.test(document.title)) faults.push('a payload ran');
    if (document.querySelectorAll('script').length !== 1) faults.push('there are scripts in the page');
    if (document.querySelectorAll('img,iframe,link,object,embed,base').length) faults.push('something foreign is in the page');
    window.parent.postMessage(wide + ' ' + faults.length + ' ' + faults.slice(0, 12).join('; '), '*');
})();
