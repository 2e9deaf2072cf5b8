using System.Net;
using System.Text;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>Messages to the addresses that unsubscribe, and what becomes of them.</summary>
internal static class StopLetters
{
    public static readonly (DigestWish, UrgentWish) Before = (DigestWish.EveryMorning, UrgentWish.InWakingHours);

    public static (DigestWish, UrgentWish) After(StopTopic topic) =>
        topic == StopTopic.Digest ? (DigestWish.Never, UrgentWish.InWakingHours) : (DigestWish.EveryMorning, UrgentWish.Never);

    public static byte[] Letter(string to) => Message("To: ADDRESS\r\nSubject: unsubscribe", to);

    public static byte[] Message(string header, string address) => Encoding.ASCII.GetBytes(
        (header.Contains("From:", StringComparison.Ordinal) ? "" : "From: Ana <ana@growers.invalid>\r\n")
        + header.Replace("ADDRESS", address, StringComparison.Ordinal) + (header.Contains("\r\n\r\n", StringComparison.Ordinal) ? "" : "\r\n\r\nPlease stop.\r\n"));

    public static string AddressOf(ReturnedMail back, StopTopic topic, long? person = null) =>
        back.Service.Services.GetRequiredService<StopAddresses>().Of(new StopLink(person ?? back.Ana, topic))!;

    public static Task<BounceRun> RunAsync(ReturnedMail back) => back.Service.Services.GetRequiredService<BounceRound>().RunAsync(CancellationToken.None);

    public static async Task<string> HandOverAsync(ReturnedMail back, byte[] message, string? recipient = null)
    {
        using var answer = await back.HandOverAsync(message, recipient: recipient);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await answer.Content.ReadAsStringAsync()).Trim();
    }

    public static async Task<(DigestWish, UrgentWish)> WishesAsync(ReturnedMail back, long? person = null)
    {
        var row = await back.PersonAsync(person);
        return (row.Digests, row.Urgent);
    }
}
