#include "base/exit_codes.h"

void exit_codes_print(FILE *out)
{
#define EXIT_CODE_ROW(NAME, CODE, MEANS) {NAME, MEANS},
    static const struct {
        exit_code code;
        const char *means;
    } rows[] = {EXIT_CODE_LIST(EXIT_CODE_ROW)};
#undef EXIT_CODE_ROW
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        fprintf(out, "  %-4d%s\n", rows[i].code, rows[i].means);
}
