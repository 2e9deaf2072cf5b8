using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// Codes of an authenticator app (TOTP, RFC 6238): six digits, half a minute, SHA-1, which is what every app supports. Identity's own
/// takes a code again as long as it is shown; here each is taken once (RFC 6238 section 5.2, ASVS 5.0 6.5.1), and the clock is ours.
/// </summary>
internal sealed class OneTimeCodes(IClock clock) : IUserTwoFactorTokenProvider<Account>
{
    public const string Provider = "codes";

    /// <summary>Where the step of the last code that was taken is kept.</summary>
    public const string KeptBy = "[FruitWatch]";
    public const string LastStep = "LastCodeStep";

    private const int Step = 30;
    private const string Letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    public Task<bool> CanGenerateTwoFactorTokenAsync(UserManager<Account> manager, Account user) => Task.FromResult(false);

    public Task<string> GenerateAsync(string purpose, UserManager<Account> manager, Account user) =>
        throw new NotSupportedException("Codes are made by the holder's app.");

    public async Task<bool> ValidateAsync(string purpose, string token, UserManager<Account> manager, Account user)
    {
        if (await manager.GetAuthenticatorKeyAsync(user) is not { Length: > 0 } key)
            return false;
        var last = long.TryParse(
            await manager.GetAuthenticationTokenAsync(user, KeptBy, LastStep), NumberStyles.None, CultureInfo.InvariantCulture, out var kept) ? kept : 0;
        return StepOf(key, token, last) is { } step && await TakeAsync(step, manager, user);
    }

    /// <summary>Whose code it is: the step's number, later than one that was taken; null where it is none.</summary>
    public long? StepOf(string key, string typed, long last)
    {
        typed = new string([.. typed.Where(char.IsAsciiDigit)]);
        if (typed.Length != 6)
            return null;
        var secret = Read(key);
        var now = clock.GetCurrentInstant().ToUnixTimeSeconds() / Step;
        // One step back and one ahead, for clocks that are a little off (RFC 6238 section 5.2).
        for (var step = now - 1; step <= now + 1; step++)
        {
            if (step > last && CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(typed), Encoding.ASCII.GetBytes(Code(secret, step))))
                return step;
        }

        return null;
    }

    // Two requests with the same code at the same moment: the account's concurrency stamp, or the key of the new row, lets one through.
    private static async Task<bool> TakeAsync(long step, UserManager<Account> manager, Account user)
    {
        try
        {
            return (await manager.SetAuthenticationTokenAsync(user, KeptBy, LastStep, step.ToString(CultureInfo.InvariantCulture))).Succeeded;
        }
        catch (DbUpdateException)
        {
            return false;
        }
    }

    /// <summary>The code of a step (RFC 4226 section 5.3).</summary>
    public static string Code(ReadOnlySpan<byte> secret, long step, int digits = 6)
    {
        Span<byte> counter = stackalloc byte[8];
        BinaryPrimitives.WriteInt64BigEndian(counter, step);
        Span<byte> hash = stackalloc byte[20];
#pragma warning disable CA5350 // The algorithm of the standard and of the apps; as a keyed hash SHA-1 is not broken.
        HMACSHA1.HashData(secret, counter, hash);
#pragma warning restore CA5350
        var truncated = BinaryPrimitives.ReadInt32BigEndian(hash[(hash[19] & 0xF)..]) & 0x7FFFFFFF;
        return (truncated % (int)Math.Pow(10, digits)).ToString("D" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    /// <summary>A secret from its letters (RFC 4648 base 32).</summary>
    public static byte[] Read(string letters)
    {
        var bytes = new List<byte>(letters.Length * 5 / 8);
        var (held, bits) = (0, 0);
        foreach (var letter in letters.ToUpperInvariant())
        {
            var value = Letters.IndexOf(letter, StringComparison.Ordinal);
            if (value < 0)
                continue;
            (held, bits) = (((held << 5) | value) & 0xFFFF, bits + 5);
            if (bits < 8)
                continue;
            bits -= 8;
            bytes.Add((byte)(held >> bits));
        }

        return [.. bytes];
    }

    /// <summary>What an app reads from the picture.</summary>
    public static string Address(string email, string secret) =>
        $"otpauth://totp/FruitWatch:{Uri.EscapeDataString(email)}?secret={secret}&issuer=FruitWatch&algorithm=SHA1&digits=6&period=30";

    /// <summary>In groups of four, for somebody who types it.</summary>
    public static string Grouped(string secret) => string.Join(' ', secret.Chunk(4).Select(group => new string(group)));
}
