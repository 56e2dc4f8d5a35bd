import { contextBridge, ipcRenderer } from 'electron';
import { channels } from './channels.ts';

// Three functions and no way to name a channel: the page can reach the desk and nothing else of the runtime.
contextBridge.exposeInMainWorld('foldbook', {
  call: (text: string): Promise<string> => ipcRenderer.invoke(channels.call, text),
  file: (name: string, bytes: ArrayBuffer): Promise<string> => ipcRenderer.invoke(channels.file, name, bytes),
  paper: (hash: string): Promise<unknown> => ipcRenderer.invoke(channels.paper, hash),
});
