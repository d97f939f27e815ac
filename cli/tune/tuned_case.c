#include "tune/tuned_case.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/number_text.h"
#include "base/text_stream.h"
#include "base/write_file.h"
#include "case/casefile.h"

enum { NAME_SHOWN = 100 };

static size_t line_length(const char *text, size_t left)
{
    const char *end = memchr(text, '\n', left);
    return end ? (size_t)(end - text) + 1 : left;
}

static bool begins_tuned(const char *line, size_t n)
{
    return n >= 6 && memcmp(line, "tuned:", 6) == 0;
}

/* Does this line still belong to the section above it? */
static bool is_inner(const char *line)
{
    return *line == ' ' || *line == '\t';
}

/* The case without its section `tuned`, which holds only lines below it that are indented. */
static void copy_without_tuned(FILE *out, const char *text, size_t size)
{
    bool inside = false;
    char last = '\n';
    for (size_t at = 0; at < size;) {
        const size_t n = line_length(text + at, size - at);
        inside = begins_tuned(text + at, n) || (inside && is_inner(text + at));
        if (!inside) {
            fwrite(text + at, 1, n, out);
            last = text[at + n - 1];
        }
        at += n;
    }
    if (last != '\n') fputc('\n', out);
}

/* The file's own name, in characters that may go between single quotes on one line. */
static void put_name(FILE *out, const char *path)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash ? slash + 1 : path;
    for (int i = 0; i < NAME_SHOWN && name[i]; i++)
        fputc(name[i] < 32 || name[i] > 126 || name[i] == '\'' ? '?' : name[i], out);
}

static void put_multiplier(FILE *out, const char *key, bool told, const ct_tune_value *v)
{
    if (!told) {
        fprintf(out, "  # no %s: charge, metering or the superheat was in doubt\n", key);
        return;
    }
    char value[NUMBER_TEXT_SIZE], low[NUMBER_TEXT_SIZE], high[NUMBER_TEXT_SIZE];
    number_text(value, v->value, 6);
    number_text(low, v->low, 3);
    number_text(high, v->high, 3);
    fprintf(out, "  %s: %s  # 95%% sure: %s to %s\n", key, value, low, high);
}

/* No key takes it: the case has the bore that is stamped on the piston. */
static void put_piston(FILE *out, const ct_tune_value *v)
{
    char value[NUMBER_TEXT_SIZE], low[NUMBER_TEXT_SIZE], high[NUMBER_TEXT_SIZE];
    if (!v->fitted) return;
    number_text(value, v->value, 3);
    number_text(low, v->low, 3);
    number_text(high, v->high, 3);
    fprintf(out,
            "  # the piston seems to pass %s (95%% sure: %s to %s) of what its bore says: not in "
            "this case\n",
            value, low, high);
}

static void put_section(FILE *out, const char *readings_path, const ct_tune *t)
{
    fputs("tuned:\n  source: 'coiltrim tune, ", out);
    fprintf(out, "%d readings of ", t->n);
    put_name(out, readings_path);
    fputs(t->agree ? "'\n" : "; the readings did not fit together'\n", out);
    const ct_tuning *to = &t->tuning;
    put_multiplier(out, "coil_conductance", to->coil_conductance.has, &t->value[CT_TUNE_COIL]);
    put_multiplier(out, "compressor_flow", to->compressor_flow.has, &t->value[CT_TUNE_FLOW]);
    put_multiplier(out, "compressor_power", to->compressor_power.has, &t->value[CT_TUNE_POWER]);
    put_multiplier(out, "condenser_conductance", to->condenser_conductance.has,
                   &t->value[CT_TUNE_CONDENSER]);
    if (to->airflow.has) put_multiplier(out, "airflow", true, &t->value[CT_TUNE_AIRFLOW]);
    put_piston(out, &t->value[CT_TUNE_PISTON]);
}

static bool near(ct_maybe read, ct_maybe meant)
{
    return read.has == meant.has && (!meant.has || fabs(read.v - meant.v) <= 1e-5 * meant.v);
}

/* A case written in braces, or ended by '...', takes no section at its end: find out before it is
 * written. */
static exit_code reads_back(const char *text, size_t size, const ct_tune *t, const char *path)
{
    ct_fault fault;
    ct_case *c = malloc(sizeof *c);
    ct_case_report *report = malloc(sizeof *report);
    exit_code code = EXIT_SYSTEM;
    if (!c || !report) {
        complain("%s: out of memory", path);
    } else if ((code = exit_code_of(ct_casefile_parse(text, size, c, report, &fault))) !=
               EXIT_DONE) {
        complain("%s: no section can be added at its end: %s", path, fault.what);
    } else {
        const ct_tuning *a = &c->tuning, *b = &t->tuning;
        if (!near(a->coil_conductance, b->coil_conductance) ||
            !near(a->compressor_flow, b->compressor_flow) ||
            !near(a->compressor_power, b->compressor_power) ||
            !near(a->condenser_conductance, b->condenser_conductance) ||
            !near(a->airflow, b->airflow)) {
            complain("%s: the tuned section does not read back", path);
            code = EXIT_INPUT;
        }
    }
    free(report);
    free(c);
    return code;
}

static exit_code keep(const char *text, size_t size, const char *output)
{
    write_file file;
    if (!write_file_open(&file, output)) return EXIT_SYSTEM;
    fwrite(text, 1, size, file.stream);
    return write_file_close(&file) ? EXIT_DONE : EXIT_SYSTEM;
}

exit_code tuned_case_write(const arguments *args, const job *j, const ct_tune *t,
                           const char *output)
{
    const char *readings_path = args->operand[1];
    char *text = NULL, *original;
    size_t size = 0;
    exit_code code = job_case_text(args, j, &original);
    if (code != EXIT_DONE) return code;
    FILE *memory = text_stream(&text, &size);
    if (memory) {
        copy_without_tuned(memory, original, strlen(original));
        put_section(memory, readings_path, t);
    }
    code = EXIT_SYSTEM;
    if (!memory || fclose(memory) != 0)
        complain("%s: out of memory", output);
    else
        code = reads_back(text, size, t, j->path);
    if (code == EXIT_DONE) code = keep(text, size, output);
    free(text);
    free(original);
    return code;
}
