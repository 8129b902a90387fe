/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a JSON text of a stranger: bounded before parsing, and every member with its type checked.
 * What is wrong is collected as sentences that name the place ("find.marks[3].shape"). */
#pragma once

#include <json-glib/json-glib.h>

/* The deepest nesting, the longest array and the longest text (bytes) that are read. */
#define WS_JSON_MAX_DEPTH 16
#define WS_JSON_MAX_ITEMS 5000
#define WS_JSON_MAX_TEXT 100000

/* The object at the top of the text. NULL with WS_ERROR_UNREADABLE when it is not JSON, too deep or no
 * object. @root keeps it alive. */
JsonObject *ws_json_parse (GBytes *bytes, JsonNode **root, GError **error);

/* One object under reading. */
typedef struct
{
  JsonObject *object;
  const char *place;   /* for messages: "find.marks[3]" */
  GPtrArray *faults;   /* of char* */
} WsJsonMembers;

/* Adds a fault about @key (or the whole object when NULL). */
void ws_json_fault (const WsJsonMembers *in, const char *key, const char *what);

/* Text; "" and a fault when it is missing and @required, or no text. Borrowed. */
const char *ws_json_get_text (const WsJsonMembers *in, const char *key, gboolean required);
/* The "id" of an object {"id", "text"}; "" for null. Ids are small letters, digits, "_", "." and "-". Borrowed. */
const char *ws_json_get_word (const WsJsonMembers *in, const char *key, gboolean required);
gboolean ws_json_is_word (const char *id);
/* NAN when it is no number. */
double ws_json_node_get_number (JsonNode *node);
/* A number within @least…@most; NAN for null or absence. */
double ws_json_get_number (const WsJsonMembers *in, const char *key, double least, double most, gboolean required);
gint64 ws_json_get_integer (const WsJsonMembers *in, const char *key, gint64 least, gint64 most, gboolean required);
gboolean ws_json_get_yes (const WsJsonMembers *in, const char *key);
/* An array; NULL (after a fault when required) if there is none. Borrowed. */
JsonArray *ws_json_get_array (const WsJsonMembers *in, const char *key, gboolean required);
/* An object; FALSE for null or absence (after a fault when required). @inner borrows @place. */
gboolean ws_json_get_object (const WsJsonMembers *in, const char *key, const char *place, gboolean required,
                             WsJsonMembers *inner);
/* Element @i of an array as an object; FALSE after a fault. */
gboolean ws_json_get_element (const WsJsonMembers *in, JsonArray *array, guint i, const char *place,
                              WsJsonMembers *inner);

/* The text into a field: frees what was there; "" when there is none. */
void ws_json_take_text (const WsJsonMembers *in, const char *key, char **field);
/* A UUID in small letters; "" and a fault for anything else. */
void ws_json_take_id (const WsJsonMembers *in, const char *key, gboolean required, char **field);
/* One of @words (NULL-terminated): its place in them; 0 for absence, and after a fault. */
int ws_json_take_choice (const WsJsonMembers *in, const char *key, const char *const *words);
