#include "paragraph.h"

#include <stdbool.h>
#include <string.h>

enum { WIDTH = 79 };

FILE *paragraph_open(paragraph *p)
{
    memset(p->text, 0, sizeof p->text);
    p->stream = fmemopen(p->text, sizeof p->text - 1, "w");
    return p->stream;
}

static int characters(const char *text, size_t bytes)
{
    int n = 0;
    for (size_t i = 0; i < bytes; i++)
        n += ((unsigned char)text[i] & 0xc0) != 0x80;
    return n;
}

void wrap(FILE *out, const char *text, const char *first, int indent)
{
    int column = fprintf(out, "%s", first);
    bool fresh = true;
    while (*text) {
        const size_t bytes = strcspn(text, " ");
        const int length = characters(text, bytes);
        if (!fresh && column + 1 + length > WIDTH) {
            fprintf(out, "\n%*s", indent, "");
            column = indent;
            fresh = true;
        }
        column += length + (fresh ? 0 : 1);
        fprintf(out, "%s%.*s", fresh ? "" : " ", (int)bytes, text);
        fresh = false;
        text += bytes;
        text += strspn(text, " ");
    }
    fputc('\n', out);
}

void paragraph_print(paragraph *p, FILE *out, const char *first, int indent)
{
    fclose(p->stream);
    wrap(out, p->text, first, indent);
}
