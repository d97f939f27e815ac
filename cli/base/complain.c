#include "base/complain.h"

#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>

#include "base/utf8.h"

void complain(const char *format, ...)
{
    char text[4096], shown[4096];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    utf8_shown(shown, sizeof shown, text);
    fprintf(stderr, "coiltrim: %s\n", shown);
}

static atomic_bool incomplete;

void complain_incomplete(void)
{
    if (!atomic_exchange(&incomplete, true)) complain("out of memory: the answer is not complete");
}

bool complain_is_incomplete(void)
{
    return atomic_load(&incomplete);
}

bool complain_had(ct_status status)
{
    if (status == CT_SYSTEM) complain_incomplete();
    return status == CT_OK;
}

exit_code exit_code_of(ct_status status)
{
    switch (status) {
    case CT_OK: return EXIT_DONE;
    case CT_INPUT: return EXIT_INPUT;
    case CT_RANGE:
    case CT_NO_ROOT:
    case CT_NO_CONV: return EXIT_MODEL;
    case CT_SYSTEM: break;
    }
    return EXIT_SYSTEM;
}

exit_code complain_fault(const ct_fault *fault)
{
    complain("%s: %s", ct_status_text(fault->status), fault->what);
    return exit_code_of(fault->status);
}
