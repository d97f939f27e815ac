#include "explore/page.h"

#include "base/html.h"
#include "explore/data.h"
#include "explore/embedded.h"

/* ---- Head ------------------------------------------------------------------------ */

/* Base64, RFC 4648 section 4, as the policy wants a hash: 'sha256-...'. */
static void write_hash(FILE *out, const unsigned char *b)
{
    static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    fputs("'sha256-", out);
    for (int i = 0; i < SHA256_SIZE; i += 3) {
        const int left = SHA256_SIZE - i;
        const unsigned three = (unsigned)b[i] << 16 | (left > 1 ? (unsigned)b[i + 1] << 8 : 0) |
                               (left > 2 ? b[i + 2] : 0);
        for (int k = 0; k < 4; k++)
            fputc(k <= left ? digit[three >> (18 - 6 * k) & 63] : '=', out);
    }
    fputs("'", out);
}

static void write_text(FILE *out, const embedded_text *t)
{
    fwrite(t->text, 1, t->size, out);
}

static const char *title_of(const explore_facts *f)
{
    const char *title = f->j->c->job.title;
    return title[0] ? title : "Blower speed and what it trades";
}

static void write_head(FILE *out, const explore_facts *f)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
          "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src ",
          out);
    write_hash(out, explore_style.sha256);
    fputs("; script-src ", out);
    write_hash(out, explore_script.sha256);
    fputs("; base-uri 'none'; form-action 'none'\"/>\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
          "<meta name=\"color-scheme\" content=\"light dark\"/>\n",
          out);
    html_element(out, "title", NULL, "%s", title_of(f));
    fputs("<style>", out);
    write_text(out, &explore_style);
    fputs("</style>\n</head>\n<body>\n<header>\n", out);
}

static void write_header(FILE *out, const explore_facts *f)
{
    const ct_case *c = f->j->c;
    html_element(out, "h1", NULL, "%s", title_of(f));
    html_element(
        out, "p", "about", "%s, %.3g ton outdoor unit. %s%sMade by coiltrim %s.",
        c->outdoor.refrigerant, c->outdoor.tons,
        f->unit[0].job.has_low ? "Capacities and coil of the high stage; humidity of both. " : "",
        c->job.invented ? "Example: the data are invented. " : "", COILTRIM_VERSION);
    fputs("</header>\n", out);
}

/* ---- Data ------------------------------------------------------------------------ */

/* JSON inside HTML: no '<' may be seen as a tag, no '&' as an entity. They stand in strings
 * only. */
static int write_json(const char *text, size_t size, void *stream)
{
    FILE *out = stream;
    for (size_t i = 0; i < size; i++) {
        if (text[i] == '<' || text[i] == '>' || text[i] == '&')
            fprintf(out, "\\u%04x", (unsigned)text[i]);
        else
            fputc(text[i], out);
    }
    return ferror(out) ? -1 : 0;
}

enum { DIGITS = 9 };

/* Straight to the stream: json_dumps loses a piece without a word when its buffer cannot grow. */
static bool write_data(FILE *out, const explore_facts *f)
{
    json_t *root = explore_data(f);
    fputs("<script type=\"application/json\" id=\"data\">", out);
    const bool good = root && json_dump_callback(root, write_json, out,
                                                 JSON_COMPACT | JSON_ENSURE_ASCII |
                                                     JSON_REAL_PRECISION(DIGITS)) == 0;
    fputs("</script>\n", out);
    json_decref(root);
    return good;
}

bool explore_page_write(FILE *out, const explore_facts *f)
{
    write_head(out, f);
    write_header(out, f);
    write_text(out, &explore_body);
    if (!write_data(out, f)) return false;
    fputs("<script>", out);
    write_text(out, &explore_script);
    fputs("</script>\n</body>\n</html>\n", out);
    return true;
}
