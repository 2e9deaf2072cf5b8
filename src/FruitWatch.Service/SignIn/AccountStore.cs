using System.Globalization;
using System.Security.Cryptography;
using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.Extensions.Options;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// Keeps accounts as Identity does, but for two things that Identity would keep readable: the secret of the authenticator app is sealed
/// (ASVS 5.0 13.3.1), of recovery codes only hashes are kept (6.5.2).
/// </summary>
internal sealed class AccountStore(FruitWatchStore context, IDataProtectionProvider protection, IdentityErrorDescriber describer)
    : UserOnlyStore<Account, FruitWatchStore, long>(context, describer)
{
    private const string KeptBy = "[FruitWatch]";
    private const string RecoveryCodes = "RecoveryCodes";
    private readonly IDataProtector protector = protection.CreateProtector("AuthenticatorKey.v1");

    /// <summary>A key that an address brings may be anything; what is no number is nobody's.</summary>
    public override long ConvertIdFromString(string? id) => long.TryParse(id, NumberStyles.None, CultureInfo.InvariantCulture, out var key) ? key : 0;

    public override Task SetAuthenticatorKeyAsync(Account user, string key, CancellationToken cancellationToken) =>
        base.SetAuthenticatorKeyAsync(user, protector.Protect(key), cancellationToken);

    public override async Task<string?> GetAuthenticatorKeyAsync(Account user, CancellationToken cancellationToken)
    {
        if (await base.GetAuthenticatorKeyAsync(user, cancellationToken) is not { } held)
            return null;
        try
        {
            return protector.Unprotect(held);
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    public override Task ReplaceCodesAsync(Account user, IEnumerable<string> recoveryCodes, CancellationToken cancellationToken) =>
        SetTokenAsync(user, KeptBy, RecoveryCodes, string.Join(';', recoveryCodes.Select(HashOf)), cancellationToken);

    public override async Task<bool> RedeemCodeAsync(Account user, string code, CancellationToken cancellationToken)
    {
        var kept = await KeptAsync(user, cancellationToken);
        if (!kept.Remove(HashOf(code)))
            return false;
        await SetTokenAsync(user, KeptBy, RecoveryCodes, string.Join(';', kept), cancellationToken);
        return true;
    }

    public override async Task<int> CountCodesAsync(Account user, CancellationToken cancellationToken) => (await KeptAsync(user, cancellationToken)).Count;

    private async Task<List<string>> KeptAsync(Account user, CancellationToken cancellationToken) =>
        [.. (await GetTokenAsync(user, KeptBy, RecoveryCodes, cancellationToken) ?? "").Split(';', StringSplitOptions.RemoveEmptyEntries)];

    // As it may be typed: with or without the lines between, in small letters.
    private static string HashOf(string code) => Secrets.Hash(new string([.. code.Where(char.IsAsciiLetterOrDigit)]).ToUpperInvariant());
}

/// <summary>Identity's manager, with recovery codes that are long enough for a fast hash: 120 bits (ASVS 5.0 6.5.2 and 6.5.3).</summary>
internal sealed class AccountManager(
    IUserStore<Account> store,
    IOptions<IdentityOptions> options,
    IPasswordHasher<Account> hasher,
    IEnumerable<IUserValidator<Account>> accounts,
    IEnumerable<IPasswordValidator<Account>> passwords,
    ILookupNormalizer normalizer,
    IdentityErrorDescriber errors,
    IServiceProvider services,
    ILogger<UserManager<Account>> log)
    : UserManager<Account>(store, options, hasher, accounts, passwords, normalizer, errors, services, log)
{
    /// <summary>How many recovery codes are given out at a time.</summary>
    public const int CodesAtOnce = 8;

    // Without letters that look like others: 32 of them, 24 times five bits.
    private const string Letters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";

    protected override string CreateTwoFactorRecoveryCode() =>
        string.Join('-', RandomNumberGenerator.GetString(Letters, 24).Chunk(6).Select(group => new string(group)));
}

/// <summary>Tokens of mailed links that set a password: two hours. Identity binds them to the account's stamp, so that one is good once.</summary>
internal sealed class ResetTokens(
    IDataProtectionProvider protection, IOptions<ResetTokenOptions> options, ILogger<DataProtectorTokenProvider<Account>> log)
    : DataProtectorTokenProvider<Account>(protection, options, log)
{
    public const string Provider = "reset";
}

/// <inheritdoc cref="ResetTokens"/>
internal sealed class ResetTokenOptions : DataProtectionTokenProviderOptions
{
    public ResetTokenOptions()
    {
        Name = "ResetTokens";
        TokenLifespan = TimeSpan.FromHours(2);
    }
}
