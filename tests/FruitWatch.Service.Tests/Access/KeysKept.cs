using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Access;

/// <summary>Keys of what the invented cooperative keeps, by the place at which routes name them; whoever adds a place names one here.</summary>
internal static class KeysKept
{
    public static IReadOnlyDictionary<string, string> Of(TestService service)
    {
        var invented = service.Invented;
        var cooperative = invented.Cooperative;
        using var store = service.Store();
        var (now, later) = (InventedCooperative.Now, InventedCooperative.Now + Duration.FromDays(30));
        var link = new PersonalLink { CooperativeId = cooperative, PersonId = service.Coordinator.PersonId, Name = "Shed", Hash = Secrets.Hash(Secrets.Draw()), MadeAt = now, ExpiresAt = later };
        var token = new ApiToken { CooperativeId = cooperative, PersonId = service.Coordinator.PersonId, Name = "Scales", Hash = Secrets.Hash(Secrets.Draw()), Scopes = "read", MadeAt = now, ExpiresAt = later };
        var hook = new Webhook { CooperativeId = cooperative, Name = "Scales", Address = "https://scales.example/told", Events = "notice.opened", SealedSecret = "none", MadeAt = now };
        var calendar = new CalendarFeed { CooperativeId = cooperative, PersonId = service.Coordinator.PersonId, Name = "Wall", Hash = Secrets.Hash(Secrets.Draw()), MadeAt = now };
        store.AddRange(link, token, hook, calendar);
        store.SaveChanges();
        var delivery = new WebhookDelivery { CooperativeId = cooperative, WebhookId = hook.Id, MessageId = "msg_1", Event = "notice.opened", Body = "{}", State = DeliveryState.Failed, NextTryAt = now, MadeAt = now };
        store.Add(delivery);
        store.SaveChanges();
        return new Dictionary<string, string>
        {
            ["sites/{id}"] = Text(invented.AlderLane),
            ["beds/{id}"] = Text(invented.Straw),
            ["log/{entryId}"] = Text(invented.Entry),
            ["feeds/{feedId}"] = Text(invented.Feed),
            ["feeds/{id}"] = Text(invented.Feed),
            ["feed-trials/{id}"] = invented.Trial.ToString(),
            ["trials/{id}"] = invented.Trial.ToString(),
            ["mail/{id}"] = Text(invented.Mail),
            ["mails/{id}"] = Text(invented.Mail),
            ["notices/{id}"] = Text(store.Notices.Min(notice => notice.Id)),
            ["people/{id}"] = Text(service.Coordinator.PersonId),
            ["links/{linkId}"] = Text(link.Id),
            ["tokens/{id}"] = Text(token.Id),
            ["calendars/{id}"] = Text(calendar.Id),
            ["webhooks/{id}"] = Text(hook.Id),
            ["deliveries/{deliveryId}"] = Text(delivery.Id),
            ["feed-presets/{id}"] = "frost-daily",
            ["problem/{status}"] = "404",
            ["invitation/{secret}"] = "unknown",
            ["setup/{code}"] = "unknown",
            ["with/{secret}"] = "unknown",
            ["calendar/{secret}"] = "unknown",
            ["do/{secret}"] = "unknown",
            ["stop/{secret}"] = "unknown",
        };
    }

    private static string Text(long key) => key.ToString(CultureInfo.InvariantCulture);
}
