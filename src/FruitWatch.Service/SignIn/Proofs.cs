using System.Globalization;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// Second factors and what is asked again before something sensitive is changed (ASVS 5.0 7.5.1): the password, or a code of the app.
/// Guessing is slowed as at the door.
/// </summary>
internal sealed class Proofs(UserManager<Account> accounts, PasswordDoor door, Pace pace, Devices devices)
{
    /// <summary>A code of the app, or a recovery code, after the password.</summary>
    public async Task<Proof> SecondAsync(Account account, string code, bool recovery, CancellationToken stop)
    {
        var who = account.Id.ToString(CultureInfo.InvariantCulture);
        var device = devices.Of(account.Id);
        if (await pace.TakeAsync("second", who, device, stop) is { } notBefore)
            return new Proof(false, notBefore);
        var good = recovery
            ? (await accounts.RedeemTwoFactorRecoveryCodeAsync(account, code)).Succeeded
            : await accounts.VerifyTwoFactorTokenAsync(account, OneTimeCodes.Provider, code);
        if (good)
            await pace.ForgiveAsync("second", who, device, stop);
        else
            await door.NoteAsync(account, recovery ? "recovery-code" : "second-factor", stop);
        return new Proof(good, null);
    }

    /// <summary>The password again; or a code, where the account has an app and a code will do.</summary>
    public async Task<Proof> AgainAsync(Account account, string typed, bool codeWillDo, CancellationToken stop)
    {
        var who = account.Id.ToString(CultureInfo.InvariantCulture);
        if (await pace.TakeAsync("again", who, devices.Of(account.Id), stop) is { } notBefore)
            return new Proof(false, notBefore);
        var good = (codeWillDo && account.TwoFactorEnabled && typed.Length <= 7 && await accounts.VerifyTwoFactorTokenAsync(account, OneTimeCodes.Provider, typed))
            || (typed.Length <= PasswordRules.Most && await accounts.CheckPasswordAsync(account, typed));
        if (good)
            await pace.ForgiveAsync("again", who, devices.Of(account.Id), stop);
        else
            await door.NoteAsync(account, "again", stop);
        return new Proof(good, null);
    }
}

/// <summary>Whether something was shown.</summary>
/// <param name="Good">It was.</param>
/// <param name="NotBefore">It was not looked at, and will not be before then.</param>
internal sealed record Proof(bool Good, Instant? NotBefore);
