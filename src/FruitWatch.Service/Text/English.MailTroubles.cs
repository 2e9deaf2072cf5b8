using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string TroubleTitle => "For whoever runs the service";

    public override string TroubleRoute(Instant since) => $"Mails have not left since {MomentUtc(since)}: they wait.";

    public override string TroubleAllowance(Instant since) => $"Since {MomentUtc(since)} mails have been waiting, because as many left within an hour as the settings allow.";

    public override string TroubleMailbox(Instant since) => $"The mailbox of what comes back has not been readable since {MomentUtc(since)}.";

    public override string TroubleSaid(string problem) => $"Last: {problem}";
}
