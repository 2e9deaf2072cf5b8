using System.Text.Json;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;

namespace FruitWatch.Service.SignIn;

/// <summary>Passkeys as forms bring them: whatever they hold that is no answer of a browser is a refusal and not a fault.</summary>
internal static class PasskeyForms
{
    private const int Longest = 20_000;

    /// <summary>Somebody shows a passkey; null where it is none, or nothing was asked for.</summary>
    public static Task<PasskeyAssertionResult<Account>?> AssertAsync(SignInManager<Account> manager, string credential) =>
        ReadAsync(credential, manager.PerformPasskeyAssertionAsync);

    /// <summary>Somebody brings a new one; null where it is none, or nothing was asked for.</summary>
    public static Task<PasskeyAttestationResult?> AttestAsync(SignInManager<Account> manager, string credential) =>
        ReadAsync(credential, manager.PerformPasskeyAttestationAsync);

    private static async Task<T?> ReadAsync<T>(string credential, Func<string, Task<T>> read)
        where T : class
    {
        if (credential.Length > Longest)
            return null;
        try
        {
            return await read(credential);
        }
        catch (Exception wrong) when (wrong is InvalidOperationException or JsonException or PasskeyException or FormatException or ArgumentException)
        {
            return null;
        }
    }
}
