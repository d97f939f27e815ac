// Put into a copy of a page by check_pages; tells the frame around it the width, the number of faults
// and what they are.
(function () {
    // An explore page brings what explore.js found.
    var faults = window.exploreFaults || [], wide = window.innerWidth;
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
        if (e.closest('.unseen')) return; // for screen readers
        if (e.matches('p,li,td,th,h1,h2,h3,caption,dd,dt') && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0)
            faults.push('clipped: ' + name(e));
    });
    document.querySelectorAll('td,th').forEach(function (e) {
        var table = e.closest('table').getBoundingClientRect(), box = e.getBoundingClientRect();
        var column = e.closest('table').parentElement.getBoundingClientRect();
        if (box.width > 0 && box.right > column.right + 0.5) faults.push('leaves its column: ' + name(e));
        if (box.width > 0 && box.right > e.closest('section').getBoundingClientRect().right + 0.5)
            faults.push('leaves its part: ' + name(e) + ' of ' + table.width);
    });
    // Contrast of text with its ground, 4.5 to 1 or more (WCAG 2.1, 1.4.3, for text of ordinary size).
    function channels(color) {
        return color.match(/[0-9.]+/g).slice(0, 3).map(Number);
    }
    function luminance(c) { // WCAG 2.1, relative luminance
        var l = c.map(function (v) {
            v /= 255;
            return v <= 0.03928 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4);
        });
        return 0.2126 * l[0] + 0.7152 * l[1] + 0.0722 * l[2];
    }
    function contrast(a, b) {
        var x = luminance(a), y = luminance(b);
        return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
    }
    function ground(e) {
        for (; e; e = e.parentElement) {
            var c = getComputedStyle(e).backgroundColor;
            if (!/rgba\(.*, 0\)|transparent/.test(c)) return channels(c);
        }
        return [255, 255, 255];
    }
    // The dark scheme turns plots around: invert(a), then hue-rotate(180deg), as Filter Effects has it.
    function filtered(c, filter) {
        var a = /invert\(([0-9.]+)\)/.exec(filter), k, r, g, b;
        if (!a) return c;
        k = Number(a[1]);
        c = c.map(function (v) { return v * (1 - k) + (255 - v) * k; });
        r = c[0], g = c[1], b = c[2];
        return [-0.574 * r + 1.43 * g + 0.144 * b, 0.426 * r + 0.43 * g + 0.144 * b,
                0.426 * r + 1.43 * g - 0.856 * b].map(function (v) { return Math.min(255, Math.max(0, v)); });
    }
    var least = {page: 99, plot: 99, body: 99, print: 99};
    function readable(e, kind, color, behind) {
        var k = contrast(color, behind);
        least[kind] = Math.min(least[kind], k);
        if (!(k >= 4.5)) faults.push('contrast only ' + k.toFixed(2) + ': ' + name(e));
    }
    function says(e) {
        return Array.prototype.some.call(e.childNodes, function (n) {
            return n.nodeType === 3 && n.nodeValue.trim();
        });
    }
    document.body.querySelectorAll('*').forEach(function (e) {
        if (e.ownerSVGElement || e.matches('svg,script,style') || !says(e)) return;
        if (!e.getClientRects().length) return;
        readable(e, 'page', channels(getComputedStyle(e).color), ground(e));
        least.body = Math.min(least.body, parseFloat(getComputedStyle(e).fontSize));
    });
    document.querySelectorAll('svg text').forEach(function (t) {
        var svg = t.ownerSVGElement, filter = getComputedStyle(svg).filter;
        // A plot of gnuplot's brings its own white ground, which turns around with it.
        if (t.textContent.trim())
            readable(t, 'plot', filtered(channels(getComputedStyle(t).fill), filter),
                     filter === 'none' ? ground(svg.parentElement) : filtered([255, 255, 255], filter));
    });
    var paper = /[?]paper/.test(location.search);
    // On paper a CSS pixel is three quarters of a point.
    if (paper && !(least.body * 0.75 >= 8.49)) faults.push('print of only ' + least.body * 0.75 + ' pt');
    document.querySelectorAll('svg').forEach(function (svg) {
        var frame = svg.getBoundingClientRect(), texts = [];
        if (!svg.querySelector('text')) return;
        svg.querySelectorAll('text').forEach(function (t) {
            if (t.textContent.trim()) texts.push(t);
        });
        // The smallest: a chart's own lines may have smaller type than its axes.
        var size = Math.min.apply(null, texts.map(function (t) {
            return parseFloat(getComputedStyle(t).fontSize);
        })) * frame.width / svg.viewBox.baseVal.width;
        least.print = Math.min(least.print, size * 0.75);
        if (paper && !(size * 0.75 >= 8)) faults.push('plot print of only ' + (size * 0.75).toFixed(2) + ' pt');
        if (!paper && !(size >= 10)) faults.push('plot text is only ' + size.toFixed(1) + ' px');
        // Type that leans has a box much larger than itself.
        texts = texts.filter(function (t) { return !/rotate\((?!0)/.test(t.parentNode.getAttribute('transform') || ''); });
        var boxes = texts.map(function (t) { return t.getBoundingClientRect(); });
        boxes.forEach(function (a, i) {
            if (a.left < frame.left - 0.5 || a.right > frame.right + 0.5 || a.top < frame.top - 0.5 ||
                a.bottom > frame.bottom + 0.5) faults.push('plot text cut: ' + name(texts[i]));
            boxes.slice(i + 1).forEach(function (b, k) {
                // A label in a box is drawn twice, the second time over the box.
                if (texts[i].textContent === texts[i + 1 + k].textContent && Math.abs(a.left - b.left) < 2) return;
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
            var over = t.getBoundingClientRect().bottom - frame.top < 0.08 * frame.height;
            if (!over || !/^ *[0-9]+ *$/.test(t.textContent)) return;
            if (!marks.some(function (m) { return Math.abs(m - middle(t)) < 3; }))
                faults.push('no speed under the number ' + name(t));
        });
    });
    if (/was-here/.test(document.title) && !/touch/.test(document.title)) faults.push('a payload ran');
    if (document.querySelectorAll('script').length !== 1) faults.push('there are scripts in the page');
    if (document.querySelectorAll('img,iframe,link,object,embed,base').length) faults.push('something foreign is in the page');
    document.documentElement.setAttribute('data-least', 'contrast ' + least.page.toFixed(1) + ', in plots ' +
        least.plot.toFixed(1) + '; type ' + (least.body * 0.75).toFixed(2) + ' pt, in plots ' + least.print.toFixed(2) + ' pt');
    if (window.exploreSays) document.documentElement.setAttribute('data-least',
        document.documentElement.getAttribute('data-least') + '; ' + window.exploreSays);
    window.parent.postMessage(document.documentElement.getAttribute('data-least') + '|' + wide + ' ' + faults.length + ' ' + faults.slice(0, 12).join('; '), '*');
})();
