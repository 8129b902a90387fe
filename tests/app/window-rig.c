/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window-rig.h"

#include "ws-application.h"
#include "ws-blocking.h"
#include "ws-file.h"
#include "ws-picture.h"

#include <string.h>

#define PATIENCE_MS 60000

static WsApplication *application;

typedef struct { WindowRig *rig; int width, height; WindowScript script; } Run;

void
window_rig_start (void)
{
  g_assert_true (ws_picture_init ("wholestem", NULL));
}

WindowRig *
window_rig_new (void)
{
  g_autoptr (GError) error = NULL;
  WindowRig *rig = g_new0 (WindowRig, 1);

  window_rig_start ();
  rig->folder = g_dir_make_tmp ("wholestem-XXXXXX", &error);
  g_assert_no_error (error);
  rig->library = g_build_filename (rig->folder, "library", NULL);
  return rig;
}

/* The thread that draws must not wait for the disk, not even here. */
static gpointer
remove_thread (gpointer folder)
{
  g_autoptr (GError) error = NULL;

  ws_file_remove_tree (folder, &error);
  g_assert_no_error (error);
  return NULL;
}

void
window_rig_free (WindowRig *rig)
{
  g_thread_join (g_thread_new ("remove", remove_thread, rig->folder));
  g_free (rig->folder);
  g_free (rig->library);
  g_free (rig);
}

/* --- Waiting ------------------------------------------------------------------------------------------------ */

static gboolean
ring_cb (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

void
window_rig_wait (int ms)
{
  gboolean rung = FALSE;

  g_timeout_add ((guint) ms, ring_cb, &rung);
  while (!rung)
    g_main_context_iteration (NULL, TRUE);
}

void
window_rig_until (gboolean (*check) (gpointer data), gpointer data, const char *what)
{
  gint64 end = g_get_monotonic_time () + PATIENCE_MS * 1000;

  while (!check (data))
    {
      if (g_get_monotonic_time () > end)
        g_error ("waited in vain for: %s", what);
      window_rig_wait (20);
    }
}

static gboolean
is_idle (gpointer data)
{
  return ws_task_count () == 0 && window_rig_get_window () != NULL && ws_session_is_loaded (window_rig_get_session ());
}

void
window_rig_settle (void)
{
  /* What was done a moment ago may start its work from a source of its own. */
  window_rig_wait (120);
  window_rig_until (is_idle, NULL, "all work to be done");
  window_rig_wait (120);
}

WsWindow *
window_rig_get_window (void)
{
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (application)); l != NULL; l = l->next)
    if (WS_IS_WINDOW (l->data))
      return l->data;
  return NULL;
}

WsSession *
window_rig_get_session (void)
{
  return ws_window_get_session (window_rig_get_window ());
}

/* --- Finding ------------------------------------------------------------------------------------------------- */

static char *
without_mnemonic (const char *text)
{
  GString *plain = g_string_new (NULL);

  for (const char *p = text != NULL ? text : ""; *p != '\0'; p++)
    if (*p != '_')
      g_string_append_c (plain, *p);
  return g_string_free (plain, FALSE);
}

static gboolean
says (GtkWidget *widget, const char *text)
{
  const char *action = GTK_IS_ACTIONABLE (widget) ? gtk_actionable_get_action_name (GTK_ACTIONABLE (widget)) : NULL;
  g_autofree char *label = NULL;

  if (g_strcmp0 (action, text) == 0 || g_strcmp0 (gtk_widget_get_tooltip_text (widget), text) == 0)
    return TRUE;
  if (GTK_IS_LABEL (widget))
    label = g_strdup (gtk_label_get_text (GTK_LABEL (widget)));
  else if (GTK_IS_BUTTON (widget))
    label = without_mnemonic (gtk_button_get_label (GTK_BUTTON (widget)));
  return label != NULL && g_str_equal (label, text);
}

static gboolean
is_type (GtkWidget *widget, GType type)
{
  return G_TYPE_CHECK_INSTANCE_TYPE (widget, type);
}

/* The last one found is in the window that was opened last: gtk lists the newest window first. */
static GtkWidget *
search (GtkWidget *widget, const char *text, GType type)
{
  if (!gtk_widget_get_mapped (widget) || !gtk_widget_get_child_visible (widget))
    return NULL;
  if (text != NULL ? says (widget, text) : is_type (widget, type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = search (child, text, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static GtkWidget *
search_windows (const char *text, GType type)
{
  GListModel *windows = gtk_window_get_toplevels ();
  GtkWidget *found = NULL;

  for (guint i = g_list_model_get_n_items (windows); i > 0 && found == NULL; i--)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i - 1);

      found = search (window, text, type);
    }
  return found;
}

GtkWidget *
window_rig_look (const char *text)
{
  return search_windows (text, G_TYPE_NONE);
}

static gboolean
is_there (gpointer data)
{
  return window_rig_look (data) != NULL;
}

GtkWidget *
window_rig_find (const char *text)
{
  window_rig_until (is_there, (gpointer) text, text);
  return window_rig_look (text);
}

GtkWidget *
window_rig_find_type (GType type)
{
  return search_windows (NULL, type);
}

static gboolean
has_type (gpointer type)
{
  return window_rig_find_type (*(GType *) type) != NULL;
}

GtkWidget *
window_rig_await_type (GType type)
{
  window_rig_until (has_type, &type, g_type_name (type));
  window_rig_wait (200);
  return window_rig_find_type (type);
}

gboolean
window_rig_await_gone (GType type, int ms)
{
  for (; ms > 0 && window_rig_find_type (type) != NULL; ms -= 50)
    window_rig_wait (50);
  return window_rig_find_type (type) == NULL;
}

void __lsan_disable (void) __attribute__ ((weak));
void __lsan_enable (void) __attribute__ ((weak));

void
window_rig_look_away (gboolean away)
{
  if (away && __lsan_disable != NULL)
    __lsan_disable ();
  else if (!away && __lsan_enable != NULL)
    __lsan_enable ();
}

/* --- Acting --------------------------------------------------------------------------------------------------- */

static void
xdotool (const char *const *words)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;

  g_ptr_array_add (argv, (gpointer) "xdotool");
  for (guint i = 0; words[i] != NULL; i++)
    g_ptr_array_add (argv, (gpointer) words[i]);
  g_ptr_array_add (argv, NULL);
  process = g_subprocess_newv ((const char *const *) argv->pdata, G_SUBPROCESS_FLAGS_NONE, &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_wait_check (process, NULL, &error));
  window_rig_wait (150);
}

/* The place of a point of the widget on the screen: windows lie at the corner, popups where their parent put them. */
static graphene_point_t
on_screen (GtkWidget *widget, double fx, double fy)
{
  GtkNative *native = gtk_widget_get_native (widget);
  graphene_point_t inside = GRAPHENE_POINT_INIT ((float) (fx * gtk_widget_get_width (widget)),
                                                 (float) (fy * gtk_widget_get_height (widget)));
  graphene_point_t point;
  double x, y;

  g_assert_true (gtk_widget_compute_point (widget, GTK_WIDGET (native), &inside, &point));
  for (GdkSurface *surface = gtk_native_get_surface (native); surface != NULL;)
    {
      if (surface == gtk_native_get_surface (native))
        {
          gtk_native_get_surface_transform (native, &x, &y);
          point.x += (float) x;
          point.y += (float) y;
        }
      if (!GDK_IS_POPUP (surface))
        break;
      point.x += (float) gdk_popup_get_position_x (GDK_POPUP (surface));
      point.y += (float) gdk_popup_get_position_y (GDK_POPUP (surface));
      surface = gdk_popup_get_parent (GDK_POPUP (surface));
    }
  return point;
}

static void
move_to (graphene_point_t point)
{
  g_autofree char *x = g_strdup_printf ("%d", (int) (point.x + 0.5)), *y = g_strdup_printf ("%d", (int) (point.y + 0.5));

  xdotool ((const char *[]) { "mousemove", x, y, NULL });
}

void
window_rig_hover (GtkWidget *widget)
{
  move_to (on_screen (widget, 0.5, 0.5));
}

/* Scrolls what holds the widget so far that it is seen. */
static void
bring_into_view (GtkWidget *widget)
{
  GtkWidget *scroller = gtk_widget_get_ancestor (widget, GTK_TYPE_SCROLLED_WINDOW);
  graphene_rect_t bounds;
  GtkAdjustment *vertical;

  if (scroller == NULL || !gtk_widget_compute_bounds (widget, scroller, &bounds))
    return;
  vertical = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller));
  if (bounds.origin.y < 0)
    gtk_adjustment_set_value (vertical, gtk_adjustment_get_value (vertical) + bounds.origin.y);
  else if (bounds.origin.y + bounds.size.height > gtk_widget_get_height (scroller))
    gtk_adjustment_set_value (vertical, gtk_adjustment_get_value (vertical) + bounds.origin.y + bounds.size.height -
                              gtk_widget_get_height (scroller));
  window_rig_wait (60);
}

void
window_rig_click (WindowRig *rig, GtkWidget *widget)
{
  bring_into_view (widget);
  window_rig_hover (widget);
  rig->actions++;
  xdotool ((const char *[]) { "click", "1", NULL });
}

void
window_rig_click_text (WindowRig *rig, const char *text)
{
  window_rig_click (rig, window_rig_find (text));
}

void
window_rig_put_away_questions (WindowRig *rig)
{
  window_rig_find ("Not now");
  /* A click that meets the questions while they still come is lost; a person clicks again. */
  for (int tries = 0; tries < 10 && window_rig_look ("Not now") != NULL; tries++)
    {
      window_rig_wait (500);
      if (window_rig_look ("Not now") != NULL)
        window_rig_click_text (rig, "Not now");
      window_rig_settle ();
    }
}

void
window_rig_drag_px (WindowRig *rig, double x0, double y0, double x1, double y1)
{
  move_to (GRAPHENE_POINT_INIT ((float) x0, (float) y0));
  rig->actions++;
  xdotool ((const char *[]) { "mousedown", "1", NULL });
  move_to (GRAPHENE_POINT_INIT ((float) ((x0 + x1) / 2), (float) ((y0 + y1) / 2)));
  move_to (GRAPHENE_POINT_INIT ((float) x1, (float) y1));
  xdotool ((const char *[]) { "mouseup", "1", NULL });
}

void
window_rig_drag (WindowRig *rig, GtkWidget *widget, double x0, double y0, double x1, double y1)
{
  graphene_point_t from = on_screen (widget, x0, y0), to = on_screen (widget, x1, y1);

  window_rig_drag_px (rig, from.x, from.y, to.x, to.y);
}

void
window_rig_key (WindowRig *rig, const char *key)
{
  rig->actions++;
  xdotool ((const char *[]) { "key", "--clearmodifiers", key, NULL });
}

void
window_rig_type (WindowRig *rig, const char *text)
{
  rig->actions++;
  xdotool ((const char *[]) { "type", "--delay", "4", text, NULL });
}

void
window_rig_shoot (const char *name)
{
  const char *folder = g_getenv ("WS_SHOTS");
  g_autofree char *file = NULL;

  if (folder == NULL)
    return;
  file = g_strdup_printf ("%s/%s.png", folder, name);
  window_rig_wait (400);
  {
    g_autoptr (GSubprocess) process = g_subprocess_new (G_SUBPROCESS_FLAGS_NONE, NULL, "import", "-window", "root", file, NULL);

    g_subprocess_wait (process, NULL, NULL);
  }
}

/* --- Running ---------------------------------------------------------------------------------------------------- */

static gboolean
has_window (gpointer data)
{
  return window_rig_get_window () != NULL && gtk_widget_get_mapped (GTK_WIDGET (window_rig_get_window ()));
}

static gboolean
script_cb (gpointer data)
{
  Run *run = data;

  window_rig_until (has_window, NULL, "the window");
  if (run->width > 0)
    gtk_window_set_default_size (GTK_WINDOW (window_rig_get_window ()), run->width, run->height);
  window_rig_settle ();
  run->script (run->rig);
  window_rig_settle ();
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (application)); l != NULL;
       l = gtk_application_get_windows (GTK_APPLICATION (application)))
    gtk_window_destroy (l->data);
  return G_SOURCE_REMOVE;
}

void
window_rig_run (WindowRig *rig, int width, int height, WindowScript script)
{
  char *argv[] = { (char *) "wholestem", (char *) "--library", rig->library, NULL };
  Run run = { rig, width, height, script };

  ws_blocking_forbid_here ();
  application = ws_application_new ();
  g_idle_add (script_cb, &run);
  g_assert_cmpint (g_application_run (G_APPLICATION (application), 3, argv), ==, 0);
  g_clear_object (&application);
}
