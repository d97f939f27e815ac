#include <string.h>

#include "base/html.h"
#include "page/page.h"
#include "page/style.h"

/* Longest texts of the job on a sheet, in characters: more is cut, so that a long name cannot push
 * a sheet onto another. */
enum { TITLE_LENGTH = 80, FIELD_LENGTH = 44, NOTES_LENGTH = 100 };

enum { MANY_OPTIONS = 5 }; /* more rows are set closer, so that the sheet stays one */

static const char *title_of(const page *p)
{
    const char *title = p->j->c->job.title;
    return title[0] ? title : "Blower speed for a new indoor coil";
}

void page_write_head(FILE *out, const page *p)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
          "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
          "'unsafe-inline'; base-uri 'none'; form-action 'none'\"/>\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
          "<meta name=\"color-scheme\" content=\"light dark\"/>\n",
          out);
    html_element(out, "title", NULL, "%s", title_of(p));
    fprintf(out, "<style>\n%s%s%s</style>\n</head>\n<body>\n", page_style_screen, page_style_phone,
            page_style_paper);
}

static void job_line(FILE *out, const char *name, const char *text, int length)
{
    if (!text[0]) return;
    fputs("<div>", out);
    html_element(out, "dt", NULL, "%s", name);
    html_element(out, "dd", NULL, "%s", page_short(text, length).text);
    fputs("</div>\n", out);
}

/* On a telephone the technician's sheets are far below the customer's. */
static void write_links(FILE *out, const page *p)
{
    fputs("<nav class=\"screen\"><a href=\"#technician\">For the technician</a> <a "
          "href=\"#start-up\">Readings at start-up</a>",
          out);
    if (p->visit) fputs(" <a href=\"#visit\">What the readings say</a>", out);
    fputs("</nav>\n", out);
}

static void sheet_begin(FILE *out, const page *p, const char *kind, const char *whose)
{
    fprintf(out, "<article class=\"sheet %s\"%s>\n<header>\n", kind,
            strcmp(kind, "technician") == 0 ? " id=\"technician\"" : "");
    html_element(out, "p", "whose", "%s", whose);
    html_element(out, "h1", NULL, "%s", page_short(title_of(p), TITLE_LENGTH).text);
    fputs("<dl class=\"job\">\n", out);
}

void page_begin_customer(FILE *out, const page *p)
{
    const ct_job *about = &p->j->c->job;
    const bool many = p->j->c->n_indoor + about->n_options > MANY_OPTIONS;
    write_links(out, p);
    sheet_begin(out, p, many ? "customer many" : "customer", "For the customer");
    job_line(out, "Customer", about->customer, FIELD_LENGTH);
    job_line(out, "Address", about->address, FIELD_LENGTH);
    job_line(out, "Date", about->date, FIELD_LENGTH);
    job_line(out, "Contractor", about->contractor, FIELD_LENGTH);
    job_line(out, "License", about->license, FIELD_LENGTH);
    fputs("</dl>\n</header>\n", out);
}

void page_begin_technician(FILE *out, const page *p)
{
    const ct_job *about = &p->j->c->job;
    sheet_begin(out, p, "technician", "For the technician");
    job_line(out, "Customer", about->customer, FIELD_LENGTH);
    job_line(out, "Technician", about->technician, FIELD_LENGTH);
    job_line(out, "Date", about->date, FIELD_LENGTH);
    job_line(out, "Notes", about->notes, NOTES_LENGTH);
    fputs("</dl>\n</header>\n", out);
}

/* More of the technician's work, on a sheet of its own when printed. */
void page_next_sheet(FILE *out, const page *p, const char *what)
{
    fputs("</article>\n<article class=\"sheet technician more\">\n", out);
    html_element(out, "p", "whose paper", "%s: %s", page_short(title_of(p), FIELD_LENGTH).text,
                 what);
}

void page_end_sheet(FILE *out, const page *p)
{
    html_element(out, "p", "foot",
                 "%sMade by coiltrim %s. A calculation, not a rating and not a "
                 "measurement.",
                 p->j->c->job.invented ? "Example: the data are invented. " : "", COILTRIM_VERSION);
    fputs("</article>\n", out);
}

void page_write_foot(FILE *out)
{
    fputs("</body>\n</html>\n", out);
}
