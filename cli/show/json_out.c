#include "show/json_out.h"

#include <errno.h>
#include <math.h>
#include <string.h>

#include "base/complain.h"

bool put_value(json_t *object, const char *name, quantity q, double v, bool si)
{
    return !isfinite(v) || put_number(object, name, q, v, si);
}

bool put_text(json_t *object, const char *name, const char *text)
{
    return json_object_set_new(object, name, json_string(text)) == 0;
}

bool put_some_text(json_t *object, const char *name, const char *text)
{
    return !text || !text[0] || put_text(object, name, text);
}

bool put_bool(json_t *object, const char *name, bool v)
{
    return json_object_set_new(object, name, json_boolean(v)) == 0;
}

bool put_integer(json_t *object, const char *name, int v)
{
    return json_object_set_new(object, name, json_integer(v)) == 0;
}

json_t *open_object(json_t *parent, const char *name)
{
    json_t *object = json_object();
    return json_object_set_new(parent, name, object) == 0 ? object : NULL;
}

json_t *open_array(json_t *parent, const char *name)
{
    json_t *array = json_array();
    return json_object_set_new(parent, name, array) == 0 ? array : NULL;
}

json_t *open_item(json_t *array)
{
    json_t *object = json_object();
    return json_array_append_new(array, object) == 0 ? object : NULL;
}

bool print_answer(FILE *out, json_t *root, size_t digits)
{
    const bool good =
        root && json_dumpf(root, out,
                           JSON_INDENT(2) | JSON_ENSURE_ASCII | JSON_REAL_PRECISION(digits)) == 0;
    const int error = errno;
    json_decref(root);
    if (good)
        fputc('\n', out);
    else if (ferror(out))
        complain("the JSON text cannot be written: %s", strerror(error));
    else
        complain("the JSON text could not be made: out of memory, or a value is no number");
    return good;
}

json_t *json_when(bool good, json_t *root)
{
    if (good) return root;
    json_decref(root);
    return NULL;
}
