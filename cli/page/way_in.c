#include <ctype.h>

#include "base/html.h"
#include "page/page.h"

static const char *mark_symbol(fit_mark mark)
{
    return mark == FIT_GOOD ? "✓" : mark == FIT_BAD ? "✗ No:" : "? Find out:";
}

static void write_checklist(FILE *out, const page *p)
{
    fit_line line[FIT_MAX_LINES];
    const int n = fit_checklist(p->j->c, p->unit, &p->fit, p->metric, line);
    fputs("<ul class=\"flow marks\">\n", out);
    for (int i = 0; i < n; i++)
        html_element(out, "li", NULL, "%s %s", mark_symbol(line[i].mark), line[i].text);
    fputs("</ul>\n", out);
}

void page_write_way_in(FILE *out, const page *p)
{
    char headline[FIT_TEXT_SIZE];
    if (!p->fit.judged) return;
    fit_headline(p->j->c, p->unit, &p->fit, p->metric, headline);
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Will it fit?");
    html_element(out, "p", NULL, "%c%s.", toupper((unsigned char)headline[0]), headline + 1);
    write_checklist(out, p);
    fputs("</section>\n", out);
}
