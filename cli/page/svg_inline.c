#include <stdlib.h>
#include <string.h>

#include "base/html.h"
#include "page/plots.h"

/* Where our prefix belongs: right after each of these. */
static size_t name_follows(const char *at)
{
    static const char *const before[] = {" id='",          " id=\"", "xlink:href='#",
                                         "xlink:href=\"#", "url(#",  "aria-labelledby='"};
    for (size_t i = 0; i < sizeof before / sizeof before[0]; i++)
        if (strncmp(at, before[i], strlen(before[i])) == 0) return strlen(before[i]);
    return 0;
}

static void copy_body(FILE *out, const char *from, const char *end, const char *prefix)
{
    while (from < end) {
        const size_t n = name_follows(from);
        if (n == 0) {
            fputc(*from++, out);
            continue;
        }
        /* "href" alone is read everywhere and needs no name space. */
        const size_t skip = strncmp(from, "xlink:", 6) == 0 ? 6 : 0;
        fwrite(from + skip, 1, n - skip, out);
        fputs(prefix, out);
        from += n;
    }
}

static bool has_foreign(const char *svg)
{
    return strstr(svg, "<script") || strstr(svg, "<image") || strstr(svg, "<foreignObject") ||
           strstr(svg, " on");
}

/* The size that gnuplot gave the picture: its viewBox begins at 0 0. */
static bool read_box(const char *box, double *width, double *height)
{
    static const char begin[] = "viewBox=\"0 0 ";
    if (strncmp(box, begin, sizeof begin - 1) != 0) return false;
    const char *from = box + sizeof begin - 1;
    char *to;
    *width = strtod(from, &to);
    if (to == from) return false;
    from = to;
    *height = strtod(from, &to);
    return to != from;
}

bool svg_inline(FILE *out, const char *svg, const char *prefix, const char *title,
                const char *description)
{
    const char *root = strstr(svg, "<svg"), *box = root ? strstr(root, "viewBox=\"") : NULL;
    const char *body = box ? strstr(box, "</desc>") : NULL,
               *end = body ? strstr(body, "</svg>") : NULL;
    double width, height;
    if (!end || has_foreign(svg) || !read_box(box, &width, &height)) return false;
    fprintf(out,
            "<svg viewBox=\"0 0 %.0f %.0f\" role=\"img\" aria-labelledby=\"%st %sd\">"
            "<title id=\"%st\">",
            width, height, prefix, prefix, prefix);
    html_text(out, title);
    fprintf(out, "</title><desc id=\"%sd\">", prefix);
    html_text(out, description);
    fputs("</desc>", out);
    copy_body(out, body + strlen("</desc>"), end, prefix);
    fputs("</svg>\n", out);
    return true;
}
