// The theme that was chosen under Settings, shown before anything is painted: the page loads this
// file before its style sheets, and the security policy allows no script within the page. The app
// says by an event that another was chosen (src/store/kept/device.rs has the form).
{
  const KEY = 'halfturn:device';
  const COLOURS = { light: '#f6f4ee', dark: '#15191c' };
  const all = (name) => document.querySelectorAll(`meta[name=${name}]`);

  const chosen = () => {
    try {
      const { theme } = JSON.parse(localStorage.getItem(KEY));
      return Object.hasOwn(COLOURS, theme) ? theme : undefined;
    } catch {
      return undefined;
    }
  };

  const show = () => {
    const theme = chosen();
    if (theme) document.documentElement.dataset.theme = theme;
    else delete document.documentElement.dataset.theme;
    for (const meta of all('color-scheme')) meta.content = theme ?? 'light dark';
    for (const meta of all('theme-color')) {
      meta.content = COLOURS[theme ?? (meta.media.includes('dark') ? 'dark' : 'light')];
    }
  };

  show();
  addEventListener('halfturn-theme', show);
  addEventListener('storage', ({ key }) => key === KEY && show());
}
