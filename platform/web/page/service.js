// Makes the page start without a network: all of its files lie in a store of this version, and are taken from there. A
// new version is fetched whole, each file compared with its digest, or not at all; it waits until a person says so.
'use strict';

const VERSION = '@VERSION@';
const FILES = [/*FILES*/];  // [name, digest]
const STORE = `motherbulb-${VERSION}`;

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const store = await caches.open(STORE);
    try {
      await Promise.all(FILES.map(async ([name, integrity]) => {
        const response = await fetch(new Request(name, {cache: 'no-cache', integrity}));
        if (!response.ok) throw new Error(`${name}: ${response.status}`);
        await store.put(name, response);
      }));
    } catch (fault) {
      await caches.delete(STORE);
      throw fault;
    }
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith('motherbulb-') && name !== STORE) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

self.addEventListener('message', (event) => { if (event.data === 'use') self.skipWaiting(); });

self.addEventListener('fetch', (event) => {
  const address = new URL(event.request.url);
  const scope = new URL(self.registration.scope);
  if (event.request.method !== 'GET' || address.origin !== scope.origin || !address.pathname.startsWith(scope.pathname)) return;
  const name = address.pathname.slice(scope.pathname.length) || 'index.html';
  if (!FILES.some(([known]) => known === name)) return;
  event.respondWith((async () => {
    const store = await caches.open(STORE);
    return await store.match(name) || fetch(event.request);
  })());
});
