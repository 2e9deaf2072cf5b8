using System.Globalization;
using System.Security.Cryptography;
using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using Microsoft.AspNetCore.DataProtection;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// The device in hand: a sealed cookie names it, and the accounts that signed in from it or set a password on it through a mailed link.
/// It opens nothing; it only spares its holder the waits that strangers cause.
/// </summary>
internal sealed class Devices
{
    private const int MostAccounts = 8;
    private readonly HttpContext context;
    private readonly IDataProtector protector;
    private readonly string cookie;
    private readonly bool tls;
    private string nonce = "";
    private List<string> accounts = [];

    public Devices(IHttpContextAccessor http, IDataProtectionProvider protection, ServiceOptions service)
    {
        context = http.HttpContext!;
        protector = protection.CreateProtector("Device.v1");
        tls = service.BehindTls;
        cookie = tls ? "__Host-device" : "device";
        Read();
    }

    /// <summary>The device, where any account is known on it.</summary>
    public string? Nonce => accounts.Count > 0 ? nonce : null;

    /// <summary>The device, where this account is known on it.</summary>
    public string? Of(long? account) => account is { } key && accounts.Contains(Text(key)) ? nonce : null;

    /// <summary>The account is known here from now on.</summary>
    public void Remember(long account)
    {
        if (accounts.Count == 0)
            nonce = Secrets.Draw();
        accounts.Remove(Text(account));
        accounts.Insert(0, Text(account));
        accounts = [.. accounts.Take(MostAccounts)];
        context.Response.Cookies.Append(cookie, protector.Protect($"{nonce} {string.Join(' ', accounts)}"), new CookieOptions
        {
            HttpOnly = true,
            Secure = tls || context.Request.IsHttps,
            SameSite = SameSiteMode.Lax,
            MaxAge = TimeSpan.FromDays(365),
            Path = "/",
            IsEssential = true,
        });
    }

    private void Read()
    {
        if (!context.Request.Cookies.TryGetValue(cookie, out var held) || held.Length > 2000)
            return;
        try
        {
            if (protector.Unprotect(held).Split(' ') is [var named, .. var known])
                (nonce, accounts) = (named, [.. known]);
        }
        catch (CryptographicException)
        {
            // Not ours, or sealed with keys that are gone: a device like any other.
        }
    }

    private static string Text(long account) => account.ToString(CultureInfo.InvariantCulture);
}
