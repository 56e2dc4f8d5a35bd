import { contextBridge, type IpcRendererEvent, ipcRenderer } from 'electron';
import { channels, commandChannel } from './channels.ts';

// Four functions and no way to name a channel: the page can reach the desk and nothing else of the runtime.
contextBridge.exposeInMainWorld('foldbook', {
  call: (text: string): Promise<string> => ipcRenderer.invoke(channels.call, text),
  file: (name: string, bytes: ArrayBuffer): Promise<string> => ipcRenderer.invoke(channels.file, name, bytes),
  paper: (hash: string): Promise<unknown> => ipcRenderer.invoke(channels.paper, hash),
  onCommand: (listener: (id: string) => void): (() => void) => {
    // The event stays here: through it the page would reach the sender.
    const hear = (_event: IpcRendererEvent, id: unknown): void => {
      if (typeof id === 'string') listener(id);
    };
    ipcRenderer.on(commandChannel, hear);
    return () => void ipcRenderer.removeListener(commandChannel, hear);
  },
});
