#include "generate.h"

#include <string.h>

#include "base/units.h"
#include "base/version.h"
#include "case/casefile.h"
#include "case/readings.h"

/* Text for roff: hyphens that are meant, no escapes, no line that begins with a request. */
static void put(FILE *out, const char *text)
{
    if (*text == '.' || *text == '\'') fputs("\\&", out);
    for (; *text; text++) {
        if (*text == '-')
            fputs("\\-", out);
        else if (*text == '\\')
            fputs("\\e", out);
        else if (*text == '"')
            fputs("\\(dq", out);
        else
            fputc(*text, out);
    }
}

/* "TXV=valve|orifice=piston" as "TXV for valve, orifice for piston". */
static void put_also(FILE *out, const char *also)
{
    fputs("\nAlso taken: ", out);
    for (; *also; also++) {
        const char one[] = {*also, '\0'};
        if (*also == '|')
            fputs(", ", out);
        else if (*also == '=')
            fputs(" for ", out);
        else
            put(out, one);
    }
    fputs(".", out);
}

static void put_key(FILE *out, const ct_key_row *row)
{
    fputs(".TP\n.B ", out);
    put(out, row->key);
    fputs("\n", out);
    put(out, row->help);
    fputs(".\n.br\n", out);
    if (is_group(row)) {
        put(out, row->unit);
        if (row->allowed[0]) fputs(" of ", out), put(out, row->allowed);
        fprintf(out, ", %s.\n", row->when);
        return;
    }
    put(out, row->unit);
    if (row->allowed[0]) fputs("; allowed: ", out), put(out, row->allowed);
    fputs("; ", out);
    put(out, row->when);
    fputs(".", out);
    if (row->also[0]) put_also(out, row->also);
    fputs("\n", out);
}

static void put_keys(FILE *out, bool (*key_of)(int, ct_key_row *))
{
    ct_key_row row;
    for (int i = 0; key_of(i, &row); i++) {
        if (!strpbrk(row.key, ".[")) {
            fputs(".SS ", out);
            put(out, row.key);
            fputs("\n", out);
        }
        put_key(out, &row);
    }
}

static void put_units(FILE *out)
{
    static const struct {
        const char *what;
        ct_unit_kind kind;
    } kinds[] = {
        {"temperature", CT_UNIT_TEMPERATURE}, {"temperature difference", CT_UNIT_DELTA_T},
        {"power, capacity", CT_UNIT_POWER},   {"tons", CT_UNIT_TONS},
        {"efficiency", CT_UNIT_EER},          {"airflow", CT_UNIT_AIRFLOW},
        {"pressure", CT_UNIT_PRESSURE},       {"gauge pressure", CT_UNIT_PRESSURE_GAUGE},
        {"length", CT_UNIT_LENGTH},           {"area", CT_UNIT_AREA},
        {"velocity", CT_UNIT_VELOCITY},       {"time", CT_UNIT_TIME},
        {"insulation", CT_UNIT_R_VALUE},      {"conductivity", CT_UNIT_CONDUCTIVITY},
        {"fin spacing", CT_UNIT_FIN_DENSITY},
    };
    fputs(
        ".SH UNITS\nEvery value has its unit beside it. These are taken, whatever the example of a "
        "key shows:\n",
        out);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        fprintf(out, ".TP\n%s\n", kinds[i].what);
        put(out, ct_units_allowed(kinds[i].kind));
        fputs("\n", out);
    }
}

/* The first block of YAML in the README. */
static bool put_example(FILE *out, const char *readme)
{
    char line[400];
    bool inside = false, found = false;
    FILE *in = fopen(readme, "r");
    if (!in) return false;
    fputs(".SH EXAMPLES\nThe shortest useful case:\n.PP\n.nf\n", out);
    while (!(found && !inside) && fgets(line, sizeof line, in)) {
        line[strcspn(line, "\n")] = '\0';
        if (strncmp(line, "```", 3) == 0) {
            inside = strcmp(line, "```yaml") == 0;
            found = found || inside;
        } else if (inside) {
            put(out, line);
            fputs("\n", out);
        }
    }
    fputs(".fi\n", out);
    fclose(in);
    return found;
}

bool write_case_page(FILE *out, const char *day, const char *readme)
{
    fprintf(out,
            ".\\\" Made from the table of keys when the program is built.\n"
            ".TH COILTRIM-CASE 5 %s \"coiltrim %s\" \"File Formats\"\n",
            day, ct_version());
    fputs(
        ".SH NAME\ncoiltrim\\-case \\- case file and readings file of coiltrim\n"
        ".SH DESCRIPTION\n"
        "A case file holds what is known of a job: the weather, the house, the outdoor unit, the\n"
        "ducts, the indoor unit. It is YAML in UTF\\-8: sections with keys, each value with its\n"
        "unit beside it. Anchors, aliases and tags are not taken. Letter case, blanks, hyphens "
        "and\n"
        "underscores in the words of a key are free. Every fault of a file is reported at once,\n"
        "each with its line.\n.PP\n"
        "What is left out is assumed, as said beside each key, and every report lists it.\n"
        ".B coiltrim keys\n"
        "prints what is here for one key or section.\n"
        ".SH KEYS OF A CASE\n"
        "An item of a list is written\n.BR list[] ;\n"
        "the keys of each item of\n.B candidates\nare those of\n.BR indoor .\n",
        out);
    put_keys(out, ct_casefile_key);
    fputs(".SH KEYS OF A READINGS FILE\nFor\n.BR \"coiltrim tune\" .\n"
          "A reading may have its standard uncertainty after +/\\-.\n",
          out);
    put_keys(out, ct_readings_key);
    put_units(out);
    const bool good = put_example(out, readme);
    fputs(".SH SEE ALSO\n.BR coiltrim (1)\n", out);
    return good;
}
