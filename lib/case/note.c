#include "case/note.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/utf8.h"

/* Bytes of text, without the half of a character that a cut may have left at its end. */
static size_t whole_length(const char *text, size_t n)
{
    size_t last = n;
    while (last > 0 && ((unsigned char)text[last - 1] & 0xC0) == 0x80)
        last--;
    if (last == 0) return 0;
    last--; /* where the last character begins */
    return ct_utf8_length((const unsigned char *)text + last, n - last) ? n : last;
}

/* Copies what fits, in whole characters, with control characters as blanks. */
static void copy_clean(char *to, size_t size, const char *from)
{
    size_t n = 0;
    for (; from[n] && n + 1 < size; n++) {
        const unsigned char c = (unsigned char)from[n];
        to[n] = (c < 0x20 || c == 0x7F) ? ' ' : from[n];
    }
    to[whole_length(to, n)] = '\0';
}

static void set_where(ct_case_fault *f, ct_case_fault_kind kind, int line, const char *key,
                      const char *given)
{
    f->kind = kind;
    f->line = line;
    copy_clean(f->key, sizeof f->key, key);
    copy_clean(f->given, sizeof f->given, given);
}

static void set_what(ct_case_fault *f, const char *format, va_list args)
{
    char what[1024];
    vsnprintf(what, sizeof what, format, args);
    copy_clean(f->what, sizeof f->what, what);
}

void ct_note_set(ct_case_fault *f, ct_case_fault_kind kind, int line, const char *key,
                 const char *given, const char *format, ...)
{
    va_list args;
    set_where(f, kind, line, key, given);
    va_start(args, format);
    set_what(f, format, args);
    va_end(args);
}

void ct_note_fault(ct_case_report *report, ct_case_fault_kind kind, int line, const char *key,
                   const char *given, const char *format, ...)
{
    if (report->n_faults++ >= CT_MAX_CASE_FAULTS) return;
    ct_case_fault *f = &report->fault[report->n_faults - 1];
    va_list args;
    set_where(f, kind, line, key, given);
    va_start(args, format);
    set_what(f, format, args);
    va_end(args);
}

void ct_note_assumption(ct_case_report *report, const char *key, double v, const char *text,
                        const char *why)
{
    int i = 0;
    while (i < report->n_assumed && strcmp(report->assumed[i].key, key) != 0)
        i++;
    if (i == CT_MAX_ASSUMED) return;
    if (i == report->n_assumed) report->n_assumed++;
    ct_assumed *a = &report->assumed[i];
    snprintf(a->key, sizeof a->key, "%s", key);
    snprintf(a->text, sizeof a->text, "%s", text);
    snprintf(a->why, sizeof a->why, "%s", why);
    a->v = v;
}

void ct_note_set_aside(ct_case_report *report, const char *key, const char *given, const char *pair)
{
    if (report->n_set_aside == CT_MAX_SET_ASIDE) return;
    ct_set_aside *a = &report->set_aside[report->n_set_aside++];
    copy_clean(a->key, sizeof a->key, key);
    copy_clean(a->given, sizeof a->given, given);
    copy_clean(a->pair, sizeof a->pair, pair);
}

void ct_note_sort(ct_case_report *report)
{
    const int n = report->n_faults < CT_MAX_CASE_FAULTS ? report->n_faults : CT_MAX_CASE_FAULTS;
    for (int i = 1; i < n; i++) {
        const ct_case_fault f = report->fault[i];
        int j = i;
        for (; j > 0 && report->fault[j - 1].line > f.line; j--)
            report->fault[j] = report->fault[j - 1];
        report->fault[j] = f;
    }
}

ct_status ct_note_summary(const ct_case_report *report, ct_fault *fault)
{
    const ct_case_fault *f = &report->fault[0];
    return ct_fault_say(fault, CT_INPUT, "%d fault%s in the file; line %d: %s%s%s",
                        report->n_faults, report->n_faults == 1 ? "" : "s", f->line, f->key,
                        f->key[0] ? ": " : "", f->what);
}
