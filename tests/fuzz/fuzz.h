/* What every fuzz target holds its reader to. A breach aborts, so that a fuzzer keeps the input. */
#ifndef FUZZ_H
#define FUZZ_H

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "case/casefile.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#define HOLDS(claim)                                                                               \
    do {                                                                                           \
        if (!(claim)) {                                                                            \
            fprintf(stderr, "%s:%d: does not hold: %s\n", __FILE__, __LINE__, #claim);             \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

/* The most lines a reader may count: YAML breaks lines at CR, LF, U+0085, U+2028 and U+2029. */
static inline int fuzz_lines(const uint8_t *data, size_t size)
{
    int n = 1;
    for (size_t i = 0; i < size; i++)
        n += data[i] == '\n' || data[i] == '\r' || (data[i] == 0x85 && i && data[i - 1] == 0xC2) ||
             ((data[i] == 0xA8 || data[i] == 0xA9) && i && data[i - 1] == 0x80);
    return n;
}

static inline bool fuzz_is_clean(const char *text)
{
    for (; *text; text++)
        if ((unsigned char)*text < 0x20 || *text == 0x7F) return false;
    return true;
}

/* Success has no faults; refusal has at least one, each fit to be shown and on a line there is. */
static inline void fuzz_check_report(ct_status status, const ct_case_report *report, int lines)
{
    HOLDS(status == CT_OK || status == CT_INPUT);
    HOLDS((status == CT_OK) == (report->n_faults == 0));
    HOLDS(report->n_assumed >= 0 && report->n_assumed <= CT_MAX_ASSUMED);
    for (int i = 0; i < report->n_faults && i < CT_MAX_CASE_FAULTS; i++) {
        const ct_case_fault *f = &report->fault[i];
        HOLDS(f->kind >= 0 && f->kind < CT_CASE_FAULT_KINDS);
        HOLDS(f->line == CT_LINE_OF_PAIR || (f->line >= 0 && f->line <= lines));
        HOLDS(f->what[0] && fuzz_is_clean(f->what) && fuzz_is_clean(f->given));
    }
}

#endif
