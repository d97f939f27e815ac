#include "show/tuned_words.h"

#include "base/paragraph.h"
#include "study/tune.h"

bool tuned_say(FILE *out, const ct_tuning *t)
{
    const struct {
        ct_tune_unknown what;
        ct_maybe times;
    } rows[] = {{CT_TUNE_COIL, t->coil_conductance},
                {CT_TUNE_FLOW, t->compressor_flow},
                {CT_TUNE_POWER, t->compressor_power},
                {CT_TUNE_CONDENSER, t->condenser_conductance},
                {CT_TUNE_AIRFLOW, t->airflow}};
    const char *between = "";
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (!rows[i].times.has) continue;
        fprintf(out, "%s%s %.2f", between, ct_tune_name(rows[i].what), rows[i].times.v);
        between = ", ";
    }
    if (!between[0]) return false;
    fputs(" times the model's", out);
    if (t->source[0]) fprintf(out, " (%s)", t->source);
    return true;
}

void tuned_print(FILE *out, const ct_tuning *t)
{
    paragraph text;
    FILE *words = paragraph_open(&text);
    if (!words) return;
    if (tuned_say(words, t))
        paragraph_print(&text, out, "Tuned by readings: ", 2);
    else
        fclose(words);
}
