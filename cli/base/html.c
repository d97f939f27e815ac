#include "base/html.h"

#include <stdarg.h>
#include <string.h>

#include "base/utf8.h"

enum { SAY_SIZE = 4000 };

/* U+202A..E and U+2066..9 turn the writing around: a name could rewrite the line it is in. */
static bool turns_writing(const char *c, int length)
{
    const unsigned char *b = (const unsigned char *)c;
    return length == 3 && b[0] == 0xe2 &&
           ((b[1] == 0x80 && b[2] >= 0xaa && b[2] <= 0xae) ||
            (b[1] == 0x81 && b[2] >= 0xa6 && b[2] <= 0xa9));
}

static const char *entity(char c)
{
    switch (c) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    case '`': return "&#96;";
    default: return NULL;
    }
}

void html_text(FILE *out, const char *text)
{
    while (*text) {
        const int length = utf8_length(text);
        const char *spelled = entity(*text);
        if (length == 0)
            fputs("\xef\xbf\xbd", out);
        else if (utf8_is_control(text, length) || turns_writing(text, length))
            fputc(' ', out);
        else if (spelled)
            fputs(spelled, out);
        else
            fwrite(text, 1, (size_t)length, out);
        text += length ? length : 1;
    }
}

static void say(FILE *out, const char *format, va_list args)
{
    char text[SAY_SIZE];
    vsnprintf(text, sizeof text, format, args);
    html_text(out, text);
}

void html_say(FILE *out, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    say(out, format, args);
    va_end(args);
}

static void open_tag(FILE *out, const char *tag, const char *class_name)
{
    if (class_name)
        fprintf(out, "<%s class=\"%s\">", tag, class_name);
    else
        fprintf(out, "<%s>", tag);
}

void html_element(FILE *out, const char *tag, const char *class_name, const char *format, ...)
{
    va_list args;
    open_tag(out, tag, class_name);
    va_start(args, format);
    say(out, format, args);
    va_end(args);
    fprintf(out, "</%s>\n", tag);
}

void html_table_begin(html_table *t, FILE *out, const char *class_name, const char *caption, int n,
                      const char *const *headings)
{
    *t = (html_table){.out = out, .n_columns = n};
    memcpy(t->heading, headings, (size_t)n * sizeof *headings);
    open_tag(out, "table", class_name);
    fputs("<caption>", out);
    html_text(out, caption);
    fputs("</caption>\n<thead><tr>", out);
    for (int i = 0; i < n; i++) {
        fputs("<th scope=\"col\">", out);
        html_text(out, headings[i]);
        fputs("</th>", out);
    }
    fputs("</tr></thead>\n<tbody>\n", out);
}

static void cell_begin(html_table *t)
{
    if (t->column == 0) {
        fputs("<tr><th scope=\"row\">", t->out);
        return;
    }
    fputs("<td data-head=\"", t->out);
    html_text(t->out, t->heading[t->column]);
    fputs("\">", t->out);
}

void html_cell(html_table *t, const char *format, ...)
{
    va_list args;
    cell_begin(t);
    va_start(args, format);
    say(t->out, format, args);
    va_end(args);
    fputs(t->column == 0 ? "</th>" : "</td>", t->out);
    t->column++;
}

void html_row_end(html_table *t)
{
    while (t->column < t->n_columns)
        html_cell(t, "%s", "");
    fputs("</tr>\n", t->out);
    t->column = 0;
}

void html_table_end(html_table *t)
{
    fputs("</tbody></table>\n", t->out);
}
