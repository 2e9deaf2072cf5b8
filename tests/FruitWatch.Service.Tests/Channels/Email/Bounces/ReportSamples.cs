using System.Text;
using MimeKit;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>
/// Reports written from RFC 3464 and RFC 3463 in the dialects that servers speak; hosts and people are invented. ADDRESS stands for the
/// envelope sender of the mail that came back.
/// </summary>
internal static class ReportSamples
{
    public static byte[] Bytes(string name, string address) => Encoding.Latin1.GetBytes(
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Channels", "Email", "Bounces", "Reports", name + ".eml"))
            .Replace("ADDRESS", address, StringComparison.Ordinal).ReplaceLineEndings("\r\n"));

    public static MimeMessage Read(string name, string address = "bounces+x@alder.invalid") => MimeMessage.Load(new MemoryStream(Bytes(name, address)));
}
