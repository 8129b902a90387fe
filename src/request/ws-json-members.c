/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-json-members.h"

#include "ws-error.h"
#include "ws-id.h"
#include "ws-intl.h"

#include <math.h>
#include <string.h>

/* So that a hostile text cannot keep the list growing. */
#define MAX_FAULTS 100

/* What is seen before the parser gets the text. It goes down level by level on the stack, so the depth is
 * counted here; and it takes comments and single quotes too, in which a quote would mislead the count, so only
 * what may stand outside strings (RFC 8259) is let through. NULL when all is well. */
static const char *
fault_of_text (const char *text, gsize size)
{
  guint depth = 0;
  gboolean quoted = FALSE;

  for (gsize i = 0; i < size; i++)
    {
      char c = text[i];

      if (quoted && c == '\\')
        i++;
      else if (c == '"')
        quoted = !quoted;
      else if (quoted ? (guchar) c < 0x20 : c == '\0' || strchr (" \t\r\n{}[]:,+-.0123456789eEtrufalsn", c) == NULL)
        return _("a character stands outside the quotes");
      else if (!quoted && (c == '{' || c == '[') && ++depth > WS_JSON_MAX_DEPTH)
        return _("it is nested too deep");
      else if (!quoted && (c == '}' || c == ']') && depth > 0)
        depth--;
    }
  return quoted ? _("it ends inside quotes") : NULL;
}

JsonObject *
ws_json_parse (GBytes *bytes, JsonNode **root, GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  g_autoptr (GError) problem = NULL;
  gsize size;
  const char *text = g_bytes_get_data (bytes, &size);
  const char *fault;

  *root = NULL;
  fault = size == 0 || !g_utf8_validate_len (text, size, NULL) ? _("it is not UTF-8") : fault_of_text (text, size);
  if (fault != NULL)
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("This is not a JSON text: %s"), fault);
  else if (!json_parser_load_from_data (parser, text, (gssize) size, &problem))
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("This is not a JSON text: %s"), problem->message);
  else
    {
      *root = json_parser_steal_root (parser);
      if (*root != NULL && JSON_NODE_HOLDS_OBJECT (*root))
        return json_node_get_object (*root);
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("The JSON text does not hold an object"));
    }
  return NULL;
}

void
ws_json_fault (const WsJsonMembers *in, const char *key, const char *what)
{
  if (in->faults->len < MAX_FAULTS)
    g_ptr_array_add (in->faults, g_strdup_printf ("%s%s%s: %s", in->place, in->place[0] != '\0'
                                                  && key != NULL ? "." : "",
                                                  key != NULL ? key : "", what));
}

/* NULL for null and for absence, which is a fault when @required. */
static JsonNode *
get_node (const WsJsonMembers *in, const char *key, gboolean required)
{
  JsonNode *node = json_object_get_member (in->object, key);

  if (node != NULL && !JSON_NODE_HOLDS_NULL (node))
    return node;
  if (required)
    ws_json_fault (in, key, _("this is missing"));
  return NULL;
}

const char *
ws_json_get_text (const WsJsonMembers *in, const char *key, gboolean required)
{
  JsonNode *node = get_node (in, key, required);
  const char *text = node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;

  if (node == NULL)
    return "";
  if (text == NULL)
    ws_json_fault (in, key, _("this must be a text"));
  else if (strlen (text) > WS_JSON_MAX_TEXT)
    ws_json_fault (in, key, _("the text is too long"));
  else
    return text;
  return "";
}

gboolean
ws_json_is_word (const char *id)
{
  return *id != '\0' && strlen (id) <= 64 && strspn (id, "abcdefghijklmnopqrstuvwxyz0123456789_.-") == strlen (id);
}

const char *
ws_json_get_word (const WsJsonMembers *in, const char *key, gboolean required)
{
  JsonNode *node = get_node (in, key, required);
  JsonObject *object = node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  JsonNode *id = object != NULL ? json_object_get_member (object, "id") : NULL;
  const char *text = id != NULL && JSON_NODE_HOLDS_VALUE (id) ? json_node_get_string (id) : NULL;

  if (node == NULL)
    return "";
  if (text != NULL && ws_json_is_word (text))
    return text;
  ws_json_fault (in, key, _("this must be an object with an id"));
  return "";
}

double
ws_json_node_get_number (JsonNode *node)
{
  GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;

  return type == G_TYPE_DOUBLE || type == G_TYPE_INT64 ? json_node_get_double (node) : NAN;
}

double
ws_json_get_number (const WsJsonMembers *in, const char *key, double least, double most, gboolean required)
{
  JsonNode *node = get_node (in, key, required);
  double number = node != NULL ? ws_json_node_get_number (node) : NAN;

  if (node == NULL || (number >= least && number <= most))
    return number;
  ws_json_fault (in, key, isnan (number) ? _("this must be a number") : _("the number is out of range"));
  return NAN;
}

gint64
ws_json_get_integer (const WsJsonMembers *in, const char *key, gint64 least, gint64 most, gboolean required)
{
  double number = ws_json_get_number (in, key, (double) least, (double) most, required);

  if (isnan (number))
    return CLAMP (0, least, most);
  if (floor (number) != number)
    ws_json_fault (in, key, _("this must be a whole number"));
  return (gint64) number;
}

gboolean
ws_json_get_yes (const WsJsonMembers *in, const char *key)
{
  JsonNode *node = get_node (in, key, FALSE);

  if (node == NULL)
    return FALSE;
  if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    return json_node_get_boolean (node);
  ws_json_fault (in, key, _("this must be true or false"));
  return FALSE;
}

JsonArray *
ws_json_get_array (const WsJsonMembers *in, const char *key, gboolean required)
{
  JsonNode *node = get_node (in, key, required);

  if (node == NULL)
    return NULL;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    ws_json_fault (in, key, _("this must be an array"));
  else if (json_array_get_length (json_node_get_array (node)) > WS_JSON_MAX_ITEMS)
    ws_json_fault (in, key, _("the array is too long"));
  else
    return json_node_get_array (node);
  return NULL;
}

gboolean
ws_json_get_object (const WsJsonMembers *in, const char *key, const char *place, gboolean required,
                    WsJsonMembers *inner)
{
  JsonNode *node = get_node (in, key, required);

  if (node == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    {
      ws_json_fault (in, key, _("this must be an object"));
      return FALSE;
    }
  *inner = (WsJsonMembers) { json_node_get_object (node), place, in->faults };
  return TRUE;
}

gboolean
ws_json_get_element (const WsJsonMembers *in, JsonArray *array, guint i, const char *place, WsJsonMembers *inner)
{
  JsonNode *node = json_array_get_element (array, i);

  *inner = (WsJsonMembers) { NULL, place, in->faults };
  if (JSON_NODE_HOLDS_OBJECT (node))
    inner->object = json_node_get_object (node);
  else
    ws_json_fault (inner, NULL, _("this must be an object"));
  return inner->object != NULL;
}

void
ws_json_take_text (const WsJsonMembers *in, const char *key, char **field)
{
  g_free (*field);
  *field = g_strdup (ws_json_get_text (in, key, FALSE));
}

void
ws_json_take_id (const WsJsonMembers *in, const char *key, gboolean required, char **field)
{
  const char *id = ws_json_get_text (in, key, required);
  g_autofree char *small = g_ascii_strdown (id, -1);

  if (*id != '\0' && !ws_id_is_valid (id))
    ws_json_fault (in, key, _("this must be a UUID"));
  g_free (*field);
  *field = g_strdup (ws_id_is_valid (id) ? small : "");
}

int
ws_json_take_choice (const WsJsonMembers *in, const char *key, const char *const *words)
{
  const char *text = ws_json_get_text (in, key, FALSE);

  for (int i = 0; *text != '\0' && words[i] != NULL; i++)
    if (g_str_equal (words[i], text))
      return i;
  if (*text != '\0')
    ws_json_fault (in, key, _("this word is not known here"));
  return 0;
}
