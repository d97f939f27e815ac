#include "fit/text.h"

#include <ctype.h>
#include <string.h>

#include "base/paragraph.h"

const char *const fit_basis =
    "The box is rigid; no room is kept for hands, straps and padding: allow for "
    "them. Installed, the unit is upright or on a side, never on its back.";

enum { LINE_INDENT = 8 };

static void print_unit(FILE *out, const ct_case *c, int unit, const fit_answer *a, bool metric)
{
    static const char *const marks[] = {
        [FIT_GOOD] = "  [ok]  ", [FIT_BAD] = "  [NO]  ", [FIT_ASK] = "  [ ? ] "};
    fit_line line[FIT_MAX_LINES];
    char text[FIT_TEXT_SIZE];
    fprintf(out, "%s\n", c->indoor[unit].name);
    fit_cabinet_text(&c->indoor[unit].cabinet, metric, text);
    if (text[0]) {
        static const char first[] = "  Cabinet: ";
        paragraph_wrap(out, text, first, (int)strlen(first));
    }
    fit_headline(c, unit, a, metric, text);
    text[0] = (char)toupper((unsigned char)text[0]);
    paragraph_wrap(out, text, "  ", 2);
    const int n = fit_checklist(c, unit, a, metric, line);
    for (int i = 0; i < n; i++)
        paragraph_wrap(out, line[i].text, marks[line[i].mark], LINE_INDENT);
}

bool fit_text_print(FILE *out, const ct_case *c, const fit_answer *a, const verdict *v, bool metric)
{
    for (int i = 0; i < c->n_indoor; i++)
        verdict_print(out, &v[i], 0);
    fputs("Way in and space\n", out);
    for (int i = 0; i < c->n_indoor; i++) {
        fputc('\n', out);
        print_unit(out, c, i, &a[i], metric);
    }
    fputc('\n', out);
    paragraph_wrap(out, fit_basis, "", 0);
    return true;
}
