#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/html.h"
#include "base/paragraph.h"
#include "base/text_stream.h"
#include "judge/notes.h"
#include "page/page.h"
#include "show/compatibility_words.h"
#include "show/note_words.h"

static void caution(FILE *out, bool applies, const char *text)
{
    if (applies) html_element(out, "li", NULL, "%s", text);
}

/* What was found about refrigerant, valve and pressures; it begins with a small letter to follow
 * other words. */
static void write_finding(FILE *out, const page *p, int bit)
{
    char *text = NULL, *nice = NULL;
    size_t size;
    FILE *stream = text_stream(&text, &size);
    if (!stream) return;
    compatibility_explain(stream, bit, &p->checks, page_indoor(p), p->j->refrigerant, p->metric);
    if (fclose(stream) == 0 && size > 0 && (nice = page_nice(text)))
        html_element(out, "li", NULL, "%s%c%s.", compatibility_refuses(bit) ? "✗ " : "",
                     toupper((unsigned char)nice[0]), nice + 1);
    free(nice);
    free(text);
}

static void write_findings(FILE *out, const page *p)
{
    for (int bit = 0; bit < CHECKS; bit++)
        if (p->has_checks && p->checks.found & 1u << bit) write_finding(out, p, bit);
}

/* What goes beyond its data at the speed shown. Little superheat is said with its numbers beside
 * the readings, and in the setting. */
static void write_notes(FILE *out, const page *p)
{
    const unsigned notes = p->p->notes & ~CT_NOTE_LITTLE_SUPERHEAT;
    for (int bit = 0; bit < CT_NOTE_COUNT; bit++) {
        paragraph text;
        FILE *t;
        if (!(notes & 1u << bit) || !(t = paragraph_open(&text))) continue;
        note_explain(t, 1u << bit, p->metric);
        fclose(t);
        char nice[2 * sizeof text.text];
        page_degrees(nice, sizeof nice, text.text);
        html_element(out, "li", NULL, "Note: %s", nice);
    }
}

void page_write_cautions(FILE *out, const page *p)
{
    const ct_case *c = p->j->c;
    const bool flammable = strcmp(ct_refrigerant_safety(p->j->refrigerant), "A1") != 0;
    const bool heat = c->limits.V_heat_min.has || c->limits.P_strip.has || c->limits.Q_furnace.has;
    const bool ducts = c->site.has_around_duct;
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Cautions");
    fputs("<ul class=\"flow\">\n", out);
    caution(out, true,
            "Local codes and the manufacturers' instructions come first. Refrigerant work is for "
            "licensed people: recover, never vent, never mix refrigerants or oils.");
    caution(out, true,
            "Before you open a panel: power off, locked out and tested; capacitors discharged.");
    write_findings(out, p);
    write_notes(out, p);
    caution(out, flammable,
            "Flammable refrigerant: no ignition source, ventilate, and use tools and a leak "
            "detector made for it. Never put it into equipment made for another refrigerant.");
    caution(out, !flammable, "Never charge it with a flammable (A2L) refrigerant.");
    caution(out, heat,
            "This blower also serves electric heat or a furnace. Keep the heating speed at the "
            "airflow its manufacturer requires (see Setting).");
    caution(out, !heat,
            "No electric heat or furnace is given, so none was checked. If there is one, keep the "
            "heating speed at the airflow its manufacturer requires.");
    caution(
        out, ducts,
        "Slower air is colder, and ducts may sweat: see the limits. Seal and insulate them, and "
        "look at them on a damp day.");
    caution(out, !ducts,
            "Slower air is colder, and ducts may sweat. The air around the ducts is not given, so "
            "this was not checked.");
    fputs("</ul>\n</section>\n", out);
}
