/* The answer as JSON for other languages: the writer against RFC 8259, and what a wrong case, a
 * right one and a case without a pick give. tests/answer_json.py compares the numbers with the
 * program's. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <jansson.h>
#include <pthread.h>

#include "base/json_text.h"
#include "base/version.h"
#include "check.h"
#include "program.h"
#include "study/answer_json.h"

/* RFC 8259, section 7: what is escaped and how; the clef U+1D11E is its own example. Invalid bytes:
 * Unicode 15, section 3.9, U+FFFD for each. */
static void test_texts(void **state)
{
    (void)state;
    static const struct {
        const char *text, *json;
    } rows[] = {
        {"", "\"\""},
        {"tap 3", "\"tap 3\""},
        {"a \"quoted\\\" word", "\"a \\\"quoted\\\\\\\" word\""},
        {"\x01\n\x1f\x7f", "\"\\u0001\\u000a\\u001f\\u007f\""},
        {"\xf0\x9d\x84\x9e", "\"\\ud834\\udd1e\""},
        {"75 \xc2\xb0"
         "F",
         "\"75 \\u00b0F\""},
        {"\xe2\x82\xac", "\"\\u20ac\""},
        {"\xc2\x9b\xe2\x80\xae", "\"\\u009b\\u202e\""}, /* a control of terminals, right to left */
        {"\xff"
         "a\xc3",
         "\"\\ufffda\\ufffd\""},
        {"\xed\xa0\x80", "\"\\ufffd\\ufffd\\ufffd\""}, /* half a pair */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ct_json j = {0};
        ct_json_text(&j, NULL, rows[i].text);
        char *json = ct_json_end(&j);
        assert_string_equal(json, rows[i].json);
        free(json);
    }
}

static void test_shape(void **state)
{
    (void)state;
    ct_json j = {0};
    ct_json_open(&j, NULL, '{');
    ct_json_open(&j, "list", '[');
    ct_json_whole(&j, NULL, -3);
    ct_json_number(&j, NULL, 0.25);
    ct_json_number(&j, NULL, NAN); /* absent */
    ct_json_open(&j, NULL, '{');
    ct_json_close(&j, '}');
    ct_json_close(&j, ']');
    ct_json_number(&j, "inf", INFINITY);
    ct_json_bool(&j, "yes", true);
    ct_json_close(&j, '}');
    char *json = ct_json_end(&j);
    assert_string_equal(json, "{\"list\":[-3,0.25,{}],\"yes\":true}");
    free(json);
}

/* The answer to a file, read back by an independent reader that refuses what is not JSON. */
static json_t *answer_to(const char *text, ct_status expected)
{
    char *json = NULL;
    ct_fault fault;
    assert_int_equal(ct_answer_json(text, strlen(text), &json, &fault), expected);
    assert_non_null(json);
    for (const char *at = json; *at; at++)
        assert_true(*at >= 0x20 && *at < 0x7F);
    json_error_t error;
    json_t *root = json_loads(json, JSON_REJECT_DUPLICATES, &error);
    if (!root) fail_msg("%s at %d", error.text, error.position);
    ct_answer_free(json);
    return root;
}

static const char *text_of(const json_t *object, const char *name)
{
    const char *text = json_string_value(json_object_get(object, name));
    assert_non_null(text);
    return text;
}

static void read_example(const char *name, char *text, size_t size)
{
    char path[300];
    snprintf(path, sizeof path, "%s/examples/%s", SOURCE_DIR, name);
    assert_true(program_read(path, text, size) && text[0]);
}

static void test_right(void **state)
{
    (void)state;
    static char text[40000];
    read_example("r22-larger-coil.yaml", text, sizeof text);
    json_t *root = answer_to(text, CT_OK);
    assert_string_equal(text_of(root, "coiltrim"), ct_version());
    assert_string_equal(text_of(root, "status"), "done");
    const json_t *pick = json_object_get(root, "pick");
    assert_true(json_is_true(json_object_get(pick, "found")));
    const json_t *points = json_object_get(root, text_of(pick, "among"));
    const json_int_t index = json_integer_value(json_object_get(pick, "index"));
    const json_t *speed = json_array_get(points, (size_t)index);
    assert_true(json_is_true(json_object_get(speed, "passes")));
    /* Sensible and latent make the total. */
    const double total = json_number_value(json_object_get(speed, "net_total_w"));
    check_rel("total", total,
              json_number_value(json_object_get(speed, "net_sensible_w")) +
                  json_number_value(json_object_get(speed, "net_latent_w")),
              1e-8);
    json_decref(root);
}

static void test_no_pick(void **state)
{
    (void)state;
    static char text[40000];
    read_example("nothing-passes.yaml", text, sizeof text);
    json_t *root = answer_to(text, CT_OK);
    const json_t *pick = json_object_get(root, "pick");
    assert_true(json_is_false(json_object_get(pick, "found")));
    assert_null(json_object_get(pick, "index"));
    assert_true(json_object_size(json_object_get(pick, "fails_on")) > 0);
    json_decref(root);
}

static void test_wrong(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "site: [", "house: {sensible_load: \"3 \xc2\xb0\"}",
                                        "outdoor:\n  refrigerant: \"x\\\"y\"\n"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        json_t *root = answer_to(texts[i], CT_INPUT);
        assert_string_equal(text_of(root, "status"), "wrong_input");
        assert_true(json_array_size(json_object_get(root, "faults")) > 0);
        assert_true(text_of(root, "why")[0] != '\0');
        assert_null(json_object_get(root, "pick"));
        json_decref(root);
    }
    ct_answer_free(NULL);
}

static void *answer_again(void *text)
{
    char *json = NULL;
    return ct_answer_json(text, strlen(text), &json, NULL) == CT_OK ? json : NULL;
}

static void test_threads(void **state)
{
    (void)state;
    enum { THREADS = 4 };
    static char text[40000];
    pthread_t thread[THREADS];
    void *json[THREADS];
    read_example("r410a-humid.yaml", text, sizeof text);
    for (int i = 0; i < THREADS; i++)
        assert_int_equal(pthread_create(&thread[i], NULL, answer_again, text), 0);
    for (int i = 0; i < THREADS; i++)
        assert_int_equal(pthread_join(thread[i], &json[i]), 0);
    for (int i = 0; i < THREADS; i++) {
        assert_non_null(json[i]);
        assert_string_equal(json[i], json[0]);
    }
    for (int i = 0; i < THREADS; i++)
        ct_answer_free(json[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_texts), cmocka_unit_test(test_shape),
        cmocka_unit_test(test_right), cmocka_unit_test(test_no_pick),
        cmocka_unit_test(test_wrong), cmocka_unit_test(test_threads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
