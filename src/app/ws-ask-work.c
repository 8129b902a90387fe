/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-ask-work.h"

#include <sys/stat.h>

#include "ws-record.h"

WsAskMaking *
ws_ask_making_new (const char *find_id)
{
  WsAskMaking *making = g_new0 (WsAskMaking, 1);

  making->find_id = g_strdup (find_id);
  making->options = (WsAskOptions) WS_ASK_OPTIONS_INIT;
  making->progress = ws_progress_board_new ();
  return making;
}

void
ws_ask_making_free (WsAskMaking *making)
{
  g_free ((char *) making->options.language);
  g_free ((char *) making->options.from);
  g_free ((char *) making->options.to);
  g_free ((char *) making->options.question);
  g_free ((char *) making->options.asked_elsewhere);
  g_free ((char *) making->options.without_base);
  g_free ((char *) making->options.replaces);
  g_free ((char *) making->options.call_back);
  g_free ((char *) making->options.region);
  g_free (making->find_id);
  g_free (making->specimen_is);
  g_free (making->path);
  ws_progress_board_unref (making->progress);
  g_free (making);
}

void
ws_ask_made_free (WsAskMade *made)
{
  g_clear_pointer (&made->verdict, ws_package_verdict_free);
  g_free (made->package);
  g_free (made->request_id);
  g_free (made);
}

/* The request that was just recorded: the newest one about this find. */
static char *
dup_request_id (WsDesk *desk, const char *find_id)
{
  g_autoptr (GPtrArray) requests = ws_library_load_requests (desk->library, NULL);

  for (guint i = 0; requests != NULL && i < requests->len; i++)
    {
      const WsSentRequest *sent = g_ptr_array_index (requests, i);

      if (g_str_equal (sent->find_id, find_id))
        return g_strdup (sent->id);
    }
  return NULL;
}

gpointer
ws_ask_work_make (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsAskMaking *making = data;
  WsAskMade *made = g_new0 (WsAskMade, 1);
  struct stat info;

  if ((making->specimen_is != NULL
       && !ws_record_set (desk, making->find_id, "specimen-is", making->specimen_is, error))
      || !ws_ask (desk, making->find_id, &making->options, making->path, making->page, ws_progress_board_tell,
                  making->progress, cancellable, &made->package, error)
      || (made->verdict = ws_package_verify (made->package, NULL, error)) == NULL)
    {
      ws_ask_made_free (made);
      return NULL;
    }
  made->size = stat (made->package, &info) == 0 ? info.st_size : 0;
  made->request_id = dup_request_id (desk, making->find_id);
  return made;
}

gpointer
ws_ask_work_name (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsAskMaking *making = data;
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, making->find_id, error);
  g_autoptr (WsRequest) request = find != NULL ? ws_ask_prepare (desk, find, &making->options, error) : NULL;
  g_autofree char *stem = request != NULL ? ws_request_dup_file_stem (request) : NULL;

  return stem != NULL ? g_strconcat (stem, ".zip", NULL) : NULL;
}
