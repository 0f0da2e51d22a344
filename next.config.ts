import type { NextConfig } from 'next';

const config: NextConfig = {
  output: 'standalone',
  poweredByHeader: false,
  reactStrictMode: true,
  experimental: {
    authInterrupts: true,
    // A file of 5 MB sent for a check, with what its encoding adds; the action itself checks size and hash.
    serverActions: { bodySizeLimit: '8mb' },
  },
  images: { unoptimized: true },
  // Types are checked by `npm test`; checking them again at start costs ten seconds and proves nothing new.
  typescript: { ignoreBuildErrors: true },
  serverExternalPackages: ['pg', 'pino', '@node-rs/argon2'],
};

export default config;
