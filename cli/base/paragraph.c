#include "base/paragraph.h"

#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

#include "base/complain.h"

enum { WIDTH = 79 };

static int characters(const char *text, size_t bytes)
{
    int n = 0;
    for (size_t i = 0; i < bytes; i++)
        n += ((unsigned char)text[i] & 0xc0) != 0x80;
    return n;
}

static void put_word(FILE *out, const char *word, size_t bytes)
{
    for (size_t i = 0; i < bytes; i++)
        fputc(word[i] == TIED ? ' ' : word[i], out);
}

/* The cursor is at `column`. */
static void put_words(FILE *out, const char *text, int column, int indent)
{
    bool fresh = true;
    while (*text) {
        const size_t bytes = strcspn(text, " ");
        const int length = characters(text, bytes);
        if (!fresh && column + 1 + length > WIDTH) {
            fprintf(out, "\n%*s", indent, "");
            column = indent;
            fresh = true;
        }
        if (!fresh) fputc(' ', out);
        put_word(out, text, bytes);
        column += length + !fresh;
        fresh = false;
        text += bytes;
        text += strspn(text, " ");
    }
    fputc('\n', out);
}

void paragraph_wrap(FILE *out, const char *text, const char *first, int indent)
{
    fputs(first, out);
    put_words(out, text, characters(first, strlen(first)), indent);
}

void paragraph_wrap_here(FILE *out, const char *text, int indent)
{
    put_words(out, text, indent, indent);
}

void paragraph_wrap_text(FILE *out, const char *first, int indent, const char *format, ...)
{
    char text[2000];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    paragraph_wrap(out, text, first, indent);
}

FILE *paragraph_open(paragraph *p)
{
    memset(p->text, 0, sizeof p->text);
    p->stream = fmemopen(p->text, sizeof p->text - 1, "w");
    if (!p->stream) complain_incomplete();
    return p->stream;
}

void paragraph_print(paragraph *p, FILE *out, const char *first, int indent)
{
    const bool whole = fflush(p->stream) == 0 && !ferror(p->stream);
    if (fclose(p->stream) != 0 || !whole) complain_incomplete();
    paragraph_wrap(out, p->text, first, indent);
}
