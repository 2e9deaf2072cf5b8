using System.Globalization;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Browser.Tests;

/// <summary>Every page that a visitor can see.</summary>
internal static class Sitemap
{
    public static readonly string[] Paths =
    [
        "/",
        "/beds/{straw}?from=2026-09-10",
        "/beds/{hazels}?log=watered&from=2026-10-01",
        "/beds/{young}?log=topped-up&from=2026-10-01",
        "/beds/{later}",
        "/notices",
        "/notices?state=withdrawn",
        "/forecasts",
        "/feeds",
        "/feeds/new",
        "/feeds/new?preset=frost-daily",
        "/feeds/new?preset=station-daily-csv",
        "/feeds/{feed}",
        "/feeds/trials/{trial}",
        "/api",
        "/account/tokens",
        "/account/calendars",
        "/mail",
        "/mail/{mail}",
        "/sites/{orchard}/season",
        "/sites/{lane}/season",
        "/people",
        "/people/new",
        "/people/1",
        "/account",
        "/account/mail",
        "/with?left=true",
        "/sites/new",
        "/sites/{lane}/edit",
        "/beds/new?site={lane}",
        "/beds/{straw}/edit",
        "/cooperative",
        "/cooperative/webhooks",
        "/cooperative/webhooks/{hook}",
        "/cooperative/export",
        "/cooperative/audit",
        "/cooperative/delete",
        "/cooperative/deleted",
        "/sign-in",
        "/sign-in/forgotten",
        "/sign-in/advice",
        "/sign-in/membership",
        "/account/security?done=password",
        "/account/security/second-factor",
        "/account/security/passkeys",
    ];

    public static string Fill(string path, InventedCooperative invented, long orchard) => path
        .Replace("{straw}", Key(invented.Straw), StringComparison.Ordinal)
        .Replace("{hazels}", Key(invented.Hazels), StringComparison.Ordinal)
        .Replace("{young}", Key(invented.Young), StringComparison.Ordinal)
        .Replace("{later}", Key(invented.Later), StringComparison.Ordinal)
        .Replace("{feed}", Key(invented.Feed), StringComparison.Ordinal)
        .Replace("{trial}", invented.Trial.ToString(), StringComparison.Ordinal)
        .Replace("{mail}", Key(invented.Mail), StringComparison.Ordinal)
        .Replace("{hook}", Key(invented.Webhook), StringComparison.Ordinal)
        .Replace("{lane}", Key(invented.AlderLane), StringComparison.Ordinal)
        .Replace("{orchard}", Key(orchard), StringComparison.Ordinal);

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
