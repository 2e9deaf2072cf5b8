// Passkeys: the browser makes and shows them for scripts only. The form that holds them is hidden where there are none; everything else
// on these pages works without this file.
"use strict";
(() => {
  if (!window.PublicKeyCredential) return;

  const bytes = (text) => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
  const text = (buffer) => buffer === null || buffer === undefined ? null
    : btoa(String.fromCharCode(...new Uint8Array(buffer))).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
  const ids = (list) => (list ?? []).map((one) => ({ ...one, id: bytes(one.id) }));

  const make = async (options) => navigator.credentials.create({
    publicKey: {
      ...options,
      challenge: bytes(options.challenge),
      user: { ...options.user, id: bytes(options.user.id) },
      excludeCredentials: ids(options.excludeCredentials),
    },
  });

  const show = async (options) => navigator.credentials.get({
    publicKey: { ...options, challenge: bytes(options.challenge), allowCredentials: ids(options.allowCredentials) },
  });

  const told = (credential) => {
    const response = credential.response;
    const common = { clientDataJSON: text(response.clientDataJSON) };
    return JSON.stringify({
      id: credential.id,
      rawId: text(credential.rawId),
      type: credential.type,
      authenticatorAttachment: credential.authenticatorAttachment,
      clientExtensionResults: credential.getClientExtensionResults(),
      response: response.attestationObject
        ? { ...common, attestationObject: text(response.attestationObject), transports: response.getTransports?.() ?? [] }
        : { ...common, authenticatorData: text(response.authenticatorData), signature: text(response.signature), userHandle: text(response.userHandle) },
    });
  };

  for (const form of document.querySelectorAll("form[data-passkey]")) {
    const problem = form.querySelector("p.error[role=alert]");
    form.hidden = false;
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      problem.hidden = true;
      try {
        const answer = await fetch(form.dataset.options, { method: "POST", body: new FormData(form) });
        const options = await answer.json().catch(() => ({}));
        if (!answer.ok) throw new Error(options.error ?? form.dataset.failed, { cause: "told" });
        const credential = form.dataset.passkey === "create" ? await make(options) : await show(options);
        form.elements.credential.value = told(credential);
        form.submit();
      } catch (failed) {
        problem.textContent = failed.cause === "told" ? failed.message : form.dataset.failed;
        problem.hidden = false;
      }
    });
  }
})();
