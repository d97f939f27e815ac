#include "wrap_text.h"

#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

enum { WIDTH = 79 };

static int characters(const char *text, size_t bytes)
{
    int n = 0;
    for (size_t i = 0; i < bytes; i++)
        n += ((unsigned char)text[i] & 0xc0) != 0x80;
    return n;
}

void wrap_text(FILE *out, const char *first, int indent, const char *format, ...)
{
    char text[2000];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    int column = fprintf(out, "%s", first);
    bool fresh = true;
    for (const char *word = text; *word; word += strspn(word, " ")) {
        const size_t bytes = strcspn(word, " ");
        const int length = characters(word, bytes);
        if (!fresh && column + 1 + length > WIDTH) {
            fprintf(out, "\n%*s", indent, "");
            column = indent;
            fresh = true;
        }
        column += length + (fresh ? 0 : 1);
        fprintf(out, "%s%.*s", fresh ? "" : " ", (int)bytes, word);
        fresh = false;
        word += bytes;
    }
    fputc('\n', out);
}
