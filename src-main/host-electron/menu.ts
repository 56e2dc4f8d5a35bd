import type { MenuItemConstructorOptions } from 'electron';

/**
 * The menu bar by platform, as data. Standard roles only: each deed of Foldbook is on a screen, with its key
 * beside it. No item opens developer tools or a second window.
 */
export function menuTemplate(platform: NodeJS.Platform): MenuItemConstructorOptions[] {
  const isMac = platform === 'darwin';
  const own: MenuItemConstructorOptions[] = isMac
    ? [
        {
          label: 'Foldbook',
          submenu: [
            { role: 'about' },
            { type: 'separator' },
            { role: 'hide' },
            { role: 'hideOthers' },
            { role: 'unhide' },
            { type: 'separator' },
            { role: 'quit' },
          ],
        },
      ]
    : [{ label: '&File', submenu: [{ role: 'quit' }] }];
  return [
    ...own,
    {
      label: '&Edit',
      submenu: [
        { role: 'undo' },
        { role: 'redo' },
        { type: 'separator' },
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
      ],
    },
    {
      label: '&View',
      submenu: [
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { role: 'resetZoom' },
        { type: 'separator' },
        { role: 'togglefullscreen' },
      ],
    },
    { label: '&Window', submenu: [{ role: 'minimize' }, { role: 'close' }] },
  ];
}
