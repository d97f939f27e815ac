#include "show/note_words.h"

#include <string.h>

#include "base/paragraph.h"
#include "show/json_out.h"

/* The data's own range is put in for "#", where the size of a piston is for "@". */
static const struct {
    const char *token, *text;
    quantity q;
    double low, high; /* 0 for none */
} rows[CT_NOTE_COUNT] = {
    {"near_flood",
     "the piston leaves less than 5 F of superheat (2.8 K), or none: liquid may reach the "
     "compressor, more of it on a hotter day, with a dirty filter or with a little more charge. "
     "Fit a smaller piston or a valve@.",
     Q_PLAIN, 0, 0},
    {"hot_flood",
     "on a day 10 F (5.6 K) hotter than the design day, at least 105 F (41 C), the piston leaves "
     "less than 5 F of superheat (2.8 K): liquid may reach the compressor. Check the superheat "
     "first at start-up. A valve, which holds its superheat, fixes it.",
     Q_PLAIN, 0, 0},
    {"starved",
     "the piston leaves over 10 F (5.6 K) more superheat than the target for this weather: the end "
     "of the coil is dry and capacity is lost. More charge mostly backs liquid up outdoors: fit a "
     "larger piston@.",
     Q_PLAIN, 0, 0},
    {"fin_range",
     "the air speed or the fins are outside the data of the fin equation: the coil's figures are "
     "carried on past what was measured, and less sure.",
     Q_PLAIN, 0, 0},
    {"piston_bore_range",
     "the piston's bore is outside the data of its flow equation, #: its flow may be off by more "
     "than 10%, and the superheat with it.",
     Q_BORE, CT_ORIFICE_DATA_BORE_MIN, CT_ORIFICE_DATA_BORE_MAX},
    {"piston_length_range",
     "the piston's length is outside the data of its flow equation, #: its flow may be off by more "
     "than 10%, and the superheat with it.",
     Q_BORE, CT_ORIFICE_DATA_LENGTH_MIN, CT_ORIFICE_DATA_LENGTH_MAX},
    {"piston_subcooling_range",
     "the subcooling is outside the data of the piston's flow equation, #: its flow may be off by "
     "more than 10%, and the superheat with it.",
     Q_DELTA_T, 0, CT_ORIFICE_DATA_SUBCOOLING_MAX},
    {"piston_gas",
     "gas arrives at the piston with the liquid: it passes less, and small changes of charge move "
     "the superheat a lot.",
     Q_PLAIN, 0, 0},
    {"blower_table",
     "the ducts' static is below the first point of the blower's table: airflow and watts are "
     "carried on past it, and less sure.",
     Q_PLAIN, 0, 0},
    {"humidity_range",
     "the house settles at a humidity beyond those the equipment was worked out at: read it as "
     "very dry or very damp, not to the percent.",
     Q_PLAIN, 0, 0},
    {"fan_on_humidity_range",
     "with the blower left on, the house settles at a humidity beyond those the equipment was "
     "worked out at: read it as very dry or very damp, not to the percent.",
     Q_PLAIN, 0, 0},
    {"part_load_short",
     "at the part load the humidity is judged at, the sensible load is not carried: the house gets "
     "warmer than its setting, and the humidity shown is what a full run holds.",
     Q_PLAIN, 0, 0},
    {"line_gas",
     "gas comes with the liquid to the metering device: lift and length of the liquid line take "
     "more "
     "pressure than the subcooling covers. The device passes less and a valve may hunt. More "
     "subcooling, a larger or shorter line or less lift helps.",
     Q_PLAIN, 0, 0},
    {"charge_gas",
     "at this speed and in this weather the charge leaves no subcooling: gas comes with the liquid "
     "to the piston, which passes less than counted here, and superheat is higher.",
     Q_PLAIN, 0, 0},
};

static int row_of(unsigned note)
{
    int i = 0;
    while (i < CT_NOTE_COUNT - 1 && note != 1u << i)
        i++;
    return i;
}

const char *note_token(unsigned note)
{
    return rows[row_of(note)].token;
}

/* The data are given to three digits, which is less than people see of a bore. */
static void put_number_of(FILE *out, const quantity_form *form, quantity q, double v, bool metric)
{
    const int decimals = q != Q_BORE ? form->decimals : metric ? 1 : 3;
    fprintf(out, "%.*f", decimals, quantity_show(form, v));
}

void note_range(FILE *out, quantity q, double low, double high, bool metric)
{
    const quantity_form *form = quantity_for_people(q, metric);
    if (low > 0) {
        put_number_of(out, form, q, low, metric);
        fputs(" to ", out);
    } else {
        fputs("up to ", out);
    }
    put_number_of(out, form, q, high, metric);
    fprintf(out, "%s%s", ct_units_gap(form->unit), form->unit);
}

static void explain(FILE *out, unsigned note, const char *size, bool metric)
{
    const int i = row_of(note);
    const char *text = rows[i].text;
    const size_t gap = strcspn(text, "#@");
    fwrite(text, 1, gap, out);
    if (text[gap] == '@') fputs(size, out);
    if (text[gap] == '#') note_range(out, rows[i].q, rows[i].low, rows[i].high, metric);
    if (text[gap]) fputs(text + gap + 1, out);
}

void note_explain(FILE *out, unsigned note, bool metric)
{
    explain(out, note, NOTE_SIZE_IN_METERING, metric);
}

static void print_all(FILE *out, unsigned notes, const char *first, const char *size, bool metric)
{
    for (int bit = 0; bit < CT_NOTE_COUNT; bit++) {
        paragraph text;
        FILE *t;
        if (!(notes & 1u << bit) || !(t = paragraph_open(&text))) continue;
        explain(t, 1u << bit, size, metric);
        paragraph_print(&text, out, first, 2);
    }
}

void notes_print(FILE *out, unsigned notes, const char *first, bool metric)
{
    print_all(out, notes, first, NOTE_SIZE_IN_METERING, metric);
}

void notes_print_sized(FILE *out, unsigned notes, const char *size, bool metric)
{
    print_all(out, notes, "Note: ", size, metric);
}

bool put_note_remarks(json_t *list, unsigned notes, bool metric)
{
    bool good = true;
    for (int bit = 0; good && bit < CT_NOTE_COUNT; bit++) {
        paragraph text;
        FILE *t;
        if (!(notes & 1u << bit)) continue;
        if (!(t = paragraph_open(&text))) return false;
        fputs("Note: ", t);
        note_explain(t, 1u << bit, metric);
        fclose(t);
        good = json_array_append_new(list, json_string(text.text)) == 0;
    }
    return good;
}

static bool put_note(json_t *list, unsigned note, const char *size, bool metric)
{
    paragraph text;
    FILE *t = paragraph_open(&text);
    json_t *one = open_item(list);
    if (!t) return false;
    explain(t, note, size, metric);
    fclose(t);
    return one && put_text(one, "note", note_token(note)) && put_text(one, "text", text.text);
}

bool put_notes_sized(json_t *object, unsigned notes, const char *size, bool metric)
{
    json_t *list = open_array(object, "notes");
    bool good = list != NULL;
    for (int bit = 0; good && bit < CT_NOTE_COUNT; bit++)
        if (notes & 1u << bit) good = put_note(list, 1u << bit, size, metric);
    return good;
}

bool put_notes(json_t *object, unsigned notes, bool metric)
{
    return put_notes_sized(object, notes, NOTE_SIZE_IN_METERING, metric);
}
