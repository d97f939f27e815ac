#include "show/answer.h"

#include "base/write_file.h"
#include "show/json_out.h"

static bool print_table(FILE *out, const answer *a, bool metric)
{
    fprintf(out, "%s\n", a->title);
    for (int i = 0; i < a->n_texts; i++)
        fprintf(out, "  %s: %s\n", a->texts[i].name, a->texts[i].text);
    for (int i = 0; i < a->n_groups; i++) {
        const fact_group *group = &a->groups[i];
        fprintf(out, "%s%s\n", i > 0 ? "\n" : "", group->heading);
        quantity_facts_print(out, group->facts, group->n, metric);
        if (group->basis) fprintf(out, "  (%s)\n", group->basis);
        if (group->warning) fprintf(out, "  Note: %s\n", group->warning);
    }
    return true;
}

static bool put_group(json_t *root, const fact_group *group, bool si)
{
    json_t *object = group->name ? open_object(root, group->name) : root;
    return object && quantity_facts_put(object, group->facts, group->n, si) &&
           put_some_text(object, "basis", group->basis) &&
           put_some_text(object, "warning", group->warning);
}

static bool fill_json(json_t *root, const answer *a, bool si)
{
    for (int i = 0; i < a->n_texts; i++)
        if (!put_some_text(root, a->texts[i].name, a->texts[i].text)) return false;
    for (int i = 0; i < a->n_groups; i++)
        if (!put_group(root, &a->groups[i], si)) return false;
    return true;
}

static bool print_json(FILE *out, const answer *a, bool si)
{
    json_t *root = json_object();
    const bool good = root && fill_json(root, a, si);
    return print_answer(out, json_when(good, root), 12);
}

exit_code answer_write(const answer *a, bool json, bool metric, const char *path)
{
    write_file file = {.stream = stdout};
    if (path && !write_file_open(&file, path)) return EXIT_SYSTEM;
    const bool good =
        json ? print_json(file.stream, a, metric) : print_table(file.stream, a, metric);
    if (!path) return good ? EXIT_DONE : EXIT_SYSTEM;
    if (good) return write_file_close(&file) ? EXIT_DONE : EXIT_SYSTEM;
    write_file_drop(&file);
    return EXIT_SYSTEM;
}
