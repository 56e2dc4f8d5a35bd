/**
 * Switches burnt into the runtime when Foldbook is packaged, by the names the runtime gives them. Each closes
 * a way to run other code under Foldbook's name.
 */
export const fuses = {
  runAsNode: false,
  enableCookieEncryption: true,
  enableNodeOptionsEnvironmentVariable: false,
  enableNodeCliInspectArguments: false,
  enableEmbeddedAsarIntegrityValidation: true,
  onlyLoadAppFromAsar: true,
  loadBrowserProcessSpecificV8Snapshot: false,
  grantFileProtocolExtraPrivileges: false,
} as const;
