using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string TroubleTitle => "Para quien mantiene el servicio";

    public override string TroubleRoute(Instant since) => $"Los correos no salen desde el {MomentUtc(since)}: esperan.";

    public override string TroubleAllowance(Instant since) => $"Desde el {MomentUtc(since)} hay correos en espera, porque en una hora salieron tantos como permiten los ajustes.";

    public override string TroubleMailbox(Instant since) => $"El buzón de los correos devueltos no se puede leer desde el {MomentUtc(since)}.";

    public override string TroubleSaid(string problem) => $"Lo último: {problem}";
}
